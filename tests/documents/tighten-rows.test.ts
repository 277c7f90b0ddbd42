import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pageOfEachRow, type Row } from '../../src/documents/place-rows.ts';
import { tightenRows } from '../../src/documents/tighten-rows.ts';

// A page holds 686 pt: 792 of US Letter less 50 at the top and 56 at the foot.
const row = (heightPt: number, spaceAbovePt: number, keepWithNext = false): Row => ({
  ...{ heightPt, spaceAbovePt, keepWithNext, cells: [], decoration: [] },
});
const times = (count: number, one: Row) => Array.from({ length: count }, () => one);
const spacesOf = (rows: readonly Row[]) => rows.map(({ spaceAbovePt }) => spaceAbovePt);
const pagesOf = (rows: readonly Row[]) => 1 + (pageOfEachRow(rows).at(-1) ?? 0);

describe('white space', () => {
  it('stays as it is on a paper of one page', () => {
    const rows = times(6, row(94, 20));
    expect(tightenRows(rows)).toEqual(rows);
  });

  it('gives way where that saves a page, and by no more than is needed', () => {
    // 7 x 80 + 6 x 22 = 692: six points too many. 6 x 18.7 = 112.2 fit.
    expect(spacesOf(tightenRows(times(7, row(80, 22))))).toEqual(
      times(7, row(0, 18.7)).map((one) => one.spaceAbovePt),
    );
    // 7 x 86 + 6 x 22 = 734: 602 + 0.7 x 132 = 694.4 is too much still, 602 + 0.55 x 132 fits.
    for (const space of spacesOf(tightenRows(times(7, row(86, 22)))))
      expect(space).toBeCloseTo(12.1, 9);
  });

  it('stays as it is where giving way saves nothing', () => {
    // 7 x 96 + 0.4 x 132 = 724.8.
    const rows = times(7, row(96, 22));
    expect(tightenRows(rows)).toEqual(rows);
  });

  it('never costs a page, never falls below two fifths, and changes nothing else', () => {
    const anyRow = fc.record({
      heightPt: fc.integer({ min: 5, max: 120 }),
      spaceAbovePt: fc.integer({ min: 0, max: 24 }),
      keepWithNext: fc.boolean(),
    });
    fc.assert(
      fc.property(fc.array(anyRow, { maxLength: 60 }), (all) => {
        const rows = all.map((one) => row(one.heightPt, one.spaceAbovePt, one.keepWithNext));
        const tight = tightenRows(rows);
        expect(pagesOf(tight)).toBeLessThanOrEqual(pagesOf(rows));
        if (pagesOf(tight) === pagesOf(rows)) expect(tight).toEqual(rows);
        tight.forEach((one, at) => {
          const before = rows[at] ?? row(0, 0);
          expect(one).toEqual({ ...before, spaceAbovePt: one.spaceAbovePt });
          expect(one.spaceAbovePt).toBeGreaterThanOrEqual(0.4 * before.spaceAbovePt - 1e-9);
        });
      }),
    );
  });
});
