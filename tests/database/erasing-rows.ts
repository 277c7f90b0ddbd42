import { customerRow, id, ids, insert, type Row, type Statement } from './rows.ts';

/** Somebody who was erased. */
export const erased = id(1_801);

export function erasureRow(change: Row = {}): Statement {
  return insert('person_erasure', {
    ...{ id: id(1_803), customer_id: id(1_802), reason: 'Asked for it by letter.' },
    ...{ erased_at: '2026-07-15T19:00:00Z', erased_by_id: ids.owner },
    ...change,
  });
}

/** Who is to be erased by the row above, as erasing leaves them. */
export function goneRow(change: Row = {}): Statement {
  return customerRow({ id: id(1_802), name: 'erased', phone: 'erased', ...change });
}

/** Somebody whose erasure is still to be put on record. */
export const leaving = id(1_807);

/** A person who was erased, with the record of it, and one who may be. */
export function erasingRows(): Statement[] {
  return [
    goneRow({ id: erased }),
    erasureRow({ id: id(1_804), customer_id: erased }),
    goneRow({ id: leaving }),
  ];
}
