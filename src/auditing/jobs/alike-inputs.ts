import type { PricingInputs } from '../../pricing/index.ts';

/** Inputs as a text in which only what prices depend on, and what things are called, is told apart. */
export interface AlikeInputs {
  /** The same for all inputs that differ in nothing but whose findings and systems they are about. */
  readonly text: string;
  /** A key of a charge as all of them share it, and back as these have it. */
  readonly sharedKey: (key: string) => string;
  readonly ownKey: (sharedKey: string) => string;
}

/**
 * Says what inputs have in common with those of other jobs. A price depends on identifiers only by
 * which of them are the same and by their order, so each stands as its place among all of them. Where
 * a finding or system goes by anything but a UUID nothing is shared: such a name may stand elsewhere.
 */
export function alikeInputs(inputs: PricingInputs): AlikeInputs {
  const text = JSON.stringify(inputs);
  const ids = [...new Set(idsIn(inputs))].sort();
  if (ids.length === 0 || !ids.every(isUuid)) return { text, sharedKey: same, ownKey: same };
  const sharedKey = (key: string) =>
    ids.reduce((shared, id, at) => shared.replaceAll(id, `${MARK}${at}${MARK}`), key);
  const ownKey = (key: string) => key.replace(PLACE, (place, at) => ids[Number(at)] ?? place);
  return { text: sharedKey(text), sharedKey, ownKey };
}

/** Written as an escape in every JSON text, so that no text holds it by itself. */
const MARK = '\u0001';
const PLACE = new RegExp(`${MARK}(\\d+)${MARK}`, 'g');
const UUID = /^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/;

function idsIn({ options, earlierWork }: PricingInputs): string[] {
  const sold = options.flatMap(({ work }) =>
    work.flatMap(({ findingId, systemId, alsoFindingIds = [] }) => [
      findingId,
      systemId,
      ...alsoFindingIds,
    ]),
  );
  return [...sold, ...(earlierWork?.access ?? []).map(({ systemId }) => systemId)];
}

function isUuid(id: string): boolean {
  return UUID.test(id);
}

function same(key: string): string {
  return key;
}
