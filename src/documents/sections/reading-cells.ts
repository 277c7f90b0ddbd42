import { formatDecimal } from '../format-decimal.ts';
import { formatUncertainty } from '../format-uncertainty.ts';
import { GAUGE_HEIGHT_PT, gaugeInks } from '../gauge.ts';
import { layLine } from '../lay-text.ts';
import { type Tag, type TagMeaning, type TextStyle, tagUnder } from '../page-plan.ts';
import type { PaperMeasurement, PaperVerdict } from '../paper-parts.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import type { PaperWords } from '../paper-words.ts';
import type { Cell } from '../place-rows.ts';
import { type Sheet, stack } from '../sheet.ts';

/** What readings are told by stands on the left, their gauges beside it. */
export const LABEL_WIDTH_PT = 158;
export const GAUGE_X_PT = PAGE.leftPt + LABEL_WIDTH_PT + 14;

/** Where a reading is drawn, and what it is seen beside. */
export interface ReadingPlace {
  topPt: number;
  /** What the figure is called for those who do not see it; the reading's label unless given. */
  name?: string;
  /** A reading of the same thing that is drawn to the same scale. */
  beside?: PaperMeasurement | undefined;
}

/** A reading's gauge, and to its right the figure with its verdict. */
export function readingCells(
  sheet: Sheet,
  block: Tag,
  measurement: PaperMeasurement,
  place: ReadingPlace,
): { cells: Cell[]; heightPt: number } {
  const figure = figureCells(sheet, block, measurement, place);
  const value = valueCells(sheet, block, measurement, place.topPt);
  return {
    cells: [...figure, ...value.cells],
    heightPt: Math.max(GAUGE_HEIGHT_PT, value.heightPt),
  };
}

export function hasLimit({ low, high }: PaperMeasurement): boolean {
  return low !== undefined || high !== undefined;
}

const GAUGE_WIDTH_PT = 196;
const VALUE_X_PT = GAUGE_X_PT + GAUGE_WIDTH_PT + 16;
const VALUE_WIDTH_PT = PAGE.leftPt + PAGE.contentWidthPt - VALUE_X_PT;

/** A reading without any limit has nothing to be drawn against, and so no gauge. */
function figureCells(
  sheet: Sheet,
  block: Tag,
  measurement: PaperMeasurement,
  { topPt, name = measurement.label, beside }: ReadingPlace,
): Cell[] {
  if (!hasLimit(measurement)) return [];
  const { words, measure } = sheet;
  const figureBox = {
    xPt: GAUGE_X_PT,
    yPt: topPt,
    widthPt: GAUGE_WIDTH_PT,
    heightPt: GAUGE_HEIGHT_PT,
  };
  const inks = gaugeInks(measurement, figureBox, measure, words.limit, beside);
  const figure = tagUnder(block, 'Figure', { alt: gaugeAlt(words, measurement, name) });
  return [{ tag: figure, inks, figureBox }];
}

function gaugeAlt(words: PaperWords, measurement: PaperMeasurement, label: string): string {
  const { unit, decimals, verdict, value, uncertainty, low, high } = measurement;
  const { limitDecimals = decimals } = measurement;
  const inWords = (number: number | undefined) =>
    number === undefined ? undefined : formatDecimal(number, limitDecimals);
  return words.gaugeAlt({
    label,
    value: formatDecimal(value, decimals),
    unit: words.unitInFull[unit] ?? unit,
    uncertainty: formatUncertainty(uncertainty, decimals),
    low: inWords(low),
    high: inWords(high),
    verdict,
  });
}

/**
 * The reading large, its uncertainty small beside it, the verdict in words below. What does not fit
 * beside the number goes below it.
 */
function valueCells(
  sheet: Sheet,
  block: Tag,
  measurement: PaperMeasurement,
  fromPt: number,
): { cells: Cell[]; heightPt: number } {
  const { words, measure } = sheet;
  const { value, decimals, unit, uncertainty, verdict } = measurement;
  const paragraph = tagUnder(block, 'P');
  const number = `${formatDecimal(value, decimals)} `;
  const fits = measure(`${number}${unit}`, TYPE.price) <= VALUE_WIDTH_PT;
  const style = fits ? TYPE.price : TYPE.strong;
  const parts: { text: string; style: TextStyle; meaning: TagMeaning }[] = [
    { text: number, style, meaning: {} },
    { text: `${unit} `, style, meaning: expansion(words.unitInFull[unit]) },
  ];
  const spread = formatUncertainty(uncertainty, decimals);
  if (spread !== undefined) {
    parts.push({ text: `± ${spread}`, style: TYPE.small, meaning: {} });
  }
  let xPt: number = VALUE_X_PT;
  let topPt = fromPt;
  const cells = parts.map(({ text, style: partStyle, meaning }): Cell => {
    const isFull = xPt + measure(text.trimEnd(), partStyle) > VALUE_X_PT + VALUE_WIDTH_PT;
    if (isFull && xPt > VALUE_X_PT) {
      xPt = VALUE_X_PT;
      topPt += VALUE_LINE_PT;
    }
    const ink = layLine(text, partStyle, { xPt, topPt: 0, widthPt: VALUE_WIDTH_PT }, measure);
    xPt += measure(text, partStyle);
    const inks = [{ ...ink, baselinePt: topPt + VALUE_BASELINE_PT }];
    return { tag: tagUnder(paragraph, 'Span', meaning), inks };
  });
  const verdictPlace = { xPt: VALUE_X_PT, topPt: topPt + 18, widthPt: VALUE_WIDTH_PT };
  const verdictText = { text: words.verdict[verdict], style: VERDICT_STYLE[verdict] };
  const verdictLines = stack(sheet, block, [verdictText], verdictPlace);
  const heightPt = verdictPlace.topPt + verdictLines.heightPt - fromPt;
  return { cells: [...cells, ...verdictLines.cells], heightPt };
}

function expansion(full: string | undefined): TagMeaning {
  return full === undefined ? {} : { expanded: full };
}

const VALUE_BASELINE_PT = 13;
const VALUE_LINE_PT = 14;

const VERDICT_STYLE: Record<PaperVerdict, TextStyle> = {
  within: TYPE.small,
  outside: { ...TYPE.label, color: COLOR.ink },
  undecided: TYPE.label,
  present: TYPE.small,
  absent: { ...TYPE.label, color: COLOR.ink },
};
