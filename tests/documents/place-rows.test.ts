import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Ink, type Tag, tag } from '../../src/documents/page-plan.ts';
import { PAGE } from '../../src/documents/paper-style.ts';
import { placeRows, type Row, type TableHeader } from '../../src/documents/place-rows.ts';

interface Placed {
  pageIndex: number;
  topPt: number;
}

/** A row whose one piece of ink tells where its top has come to lie. */
function rowUnder(owner: Tag, options: Omit<Row, 'cells' | 'decoration'>): Row {
  return { ...options, cells: [{ tag: owner, inks: [mark(0)] }], decoration: [] };
}

function mark(yPt: number): Ink {
  return { kind: 'rectangle', xPt: 0, yPt, widthPt: 1, heightPt: 1, radiusPt: 0, fill: '#000' };
}

function placesOf(owner: Tag): Placed[] {
  return owner.children.map((child) => {
    if (child.kind !== 'mark') throw new Error('Only marks hang here.');
    const [ink] = child.inks;
    return { pageIndex: child.pageIndex, topPt: ink?.kind === 'rectangle' ? ink.yPt : Number.NaN };
  });
}

const rowOptions = fc.record({
  heightPt: fc.integer({ min: 5, max: 90 }),
  spaceAbovePt: fc.integer({ min: 0, max: 24 }),
  keepWithNext: fc.boolean(),
});

describe('rows on pages', () => {
  it('lie below one another in order, inside the margins, without touching', () => {
    fc.assert(
      fc.property(fc.array(rowOptions, { maxLength: 80 }), (rows) => {
        const owner = tag('P');
        placeRows(rows.map((options) => rowUnder(owner, options)));
        let previous = { pageIndex: 0, bottomPt: PAGE.topPt as number };
        placesOf(owner).forEach(({ pageIndex, topPt }, index) => {
          const row = rows[index];
          const bottomPt = topPt + (row?.heightPt ?? 0);
          expect(topPt).toBeGreaterThanOrEqual(PAGE.topPt);
          expect(bottomPt).toBeLessThanOrEqual(PAGE.contentBottomPt);
          if (pageIndex === previous.pageIndex) {
            expect(topPt).toBeGreaterThanOrEqual(previous.bottomPt);
          } else {
            expect(pageIndex).toBe(previous.pageIndex + 1);
          }
          previous = { pageIndex, bottomPt };
        });
      }),
    );
  });

  it('that belong together share a page whenever one page can hold them', () => {
    const kept = fc.array(fc.integer({ min: 5, max: 60 }), { minLength: 2, maxLength: 10 });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 670 }), kept, (fillPt, heights) => {
        const before = tag('P');
        const owner = tag('P');
        const apart = { spaceAbovePt: 0, keepWithNext: false };
        placeRows([
          rowUnder(before, { heightPt: fillPt, ...apart }),
          ...heights.map((heightPt, index) =>
            rowUnder(owner, {
              heightPt,
              spaceAbovePt: 3,
              keepWithNext: index < heights.length - 1,
            }),
          ),
        ]);
        expect(new Set(placesOf(owner).map(({ pageIndex }) => pageIndex)).size).toBe(1);
      }),
    );
  });

  it('that no page can hold together are cut rather than lost', () => {
    const owner = tag('P');
    const pages = placeRows(
      Array.from({ length: 30 }, () =>
        rowUnder(owner, { heightPt: 60, spaceAbovePt: 0, keepWithNext: true }),
      ),
    );
    expect(placesOf(owner)).toHaveLength(30);
    expect(pages.length).toBe(3);
  });

  it('of a table stand below its header on every page but the first, where it stands itself', () => {
    const owner = tag('P');
    const tableHeader: TableHeader = { heightPt: 20, inks: [mark(0)], decoration: [mark(19)] };
    const pages = placeRows(
      Array.from({ length: 100 }, () =>
        rowUnder(owner, { heightPt: 20, spaceAbovePt: 0, keepWithNext: false, tableHeader }),
      ),
    );
    const [first, ...others] = pages;
    expect(others.length).toBeGreaterThan(1);
    expect(first?.repeatedHeader).toHaveLength(1);
    for (const page of others) expect(page.repeatedHeader).toEqual([mark(PAGE.topPt)]);
    for (const { topPt } of placesOf(owner)) expect(topPt).toBeGreaterThanOrEqual(PAGE.topPt + 20);
  });
});
