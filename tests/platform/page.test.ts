import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { cutPage, pageQuery, startAfter } from '../../src/platform/http/page.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { fixedClock } from '../harness/fixed-clock.ts';

const ids = timedIds(fixedClock());
const rows = Array.from({ length: 5 }, () => ({ id: ids.next() }));
const listing = { list: 'tickets', state: 'new' };
const query = z.strictObject(pageQuery);

function cursorAfter(at: number): string {
  const { nextCursor } = cutPage(rows.slice(0, at + 2), at + 1, listing);
  if (nextCursor === null) throw new Error('there is another page');
  return nextCursor;
}

describe('the limit of a page', () => {
  it.each([
    [undefined, 25],
    ['1', 1],
    ['100', 100],
    ['101', 100],
    ['1000', 100],
  ])('limit %s gives at most %s', (limit, expected) => {
    expect(query.parse({ limit }).limit).toBe(expected);
  });

  it.each(['0', '-1', '', '1.5', 'ten', 'NaN', 'Infinity', ['1', '2']])('refuses %s', (limit) => {
    expect(query.safeParse({ limit }).success).toBe(false);
  });
});

describe('a cursor', () => {
  it('starts after the last row of the page it came with', () => {
    expect(startAfter(cursorAfter(1), listing)).toBe(rows[1]?.id);
  });

  it('is absent on the last page, full or not', () => {
    expect(cutPage(rows, 5, listing)).toEqual({ items: rows, nextCursor: null });
    expect(cutPage(rows, 6, listing)).toEqual({ items: rows, nextCursor: null });
    expect(cutPage([], 6, listing)).toEqual({ items: [], nextCursor: null });
  });

  it('never leads to more than was asked for', () => {
    expect(cutPage(rows, 2, listing).items).toEqual(rows.slice(0, 2));
  });

  it.each([
    ['another list', { list: 'visits', state: 'new' }],
    ['another filter', { list: 'tickets', state: 'closed' }],
    ['no filter', { list: 'tickets' }],
  ])('is refused for %s, where it would skip rows without a word', (_, other) => {
    expect(() => startAfter(cursorAfter(1), other)).toThrow(
      expect.objectContaining({ slug: 'cursor-invalid' }),
    );
  });

  it('is refused after any alteration', () => {
    const cursor = cursorAfter(1);
    fc.assert(
      fc.property(
        fc.nat(cursor.length - 1),
        fc.constantFrom(...'ABCxyz019-_=!%'),
        fc.constantFrom('replace', 'insert', 'append'),
        (at, letter, how) => {
          const altered = {
            replace: cursor.slice(0, at) + letter + cursor.slice(at + 1),
            insert: cursor.slice(0, at) + letter + cursor.slice(at),
            append: cursor + letter,
          }[how];
          fc.pre(altered !== cursor);
          expect(() => startAfter(altered, listing)).toThrow(
            expect.objectContaining({ slug: 'cursor-invalid' }),
          );
        },
      ),
    );
  });

  it('is refused when it names another row than the one it was given for', () => {
    const [id, check] = JSON.parse(Buffer.from(cursorAfter(1), 'base64url').toString());
    const forged = Buffer.from(JSON.stringify([rows[3]?.id, check])).toString('base64url');
    expect(id).toBe(rows[1]?.id);
    expect(() => startAfter(forged, listing)).toThrow(
      expect.objectContaining({ slug: 'cursor-invalid' }),
    );
  });

  it.each(['', 'x', 'bnVsbA', 'e30', 'W10', '\u0000', '%00'])('refuses %j', (cursor) => {
    expect(() => startAfter(cursor, listing)).toThrow(
      expect.objectContaining({ slug: 'cursor-invalid' }),
    );
  });
});
