import type { PlainInk } from '../page-plan.ts';

/**
 * A picture of figures, laid out and not drawn yet: the same inks become a page of a paper or a
 * picture on a screen. Measures are points from its own top left corner.
 */
export interface Plot {
  readonly title: string;
  /** What is to be seen in it, for those who do not see it. */
  readonly description: string;
  readonly widthPt: number;
  readonly heightPt: number;
  readonly inks: readonly PlainInk[];
  /** Every figure that is drawn, so that it can be read and checked without the picture. */
  readonly table: PlotTable;
}

export interface PlotTable {
  readonly columns: readonly [string, ...string[]];
  readonly rows: readonly (readonly string[])[];
}
