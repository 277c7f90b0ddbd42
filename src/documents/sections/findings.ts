import { formatDecimal } from '../format-decimal.ts';
import { formatUncertainty } from '../format-uncertainty.ts';
import { GAUGE_HEIGHT_PT, gaugeInks } from '../gauge.ts';
import { layLine, layText } from '../lay-text.ts';
import { type Ink, type Tag, type TagMeaning, type TextStyle, tagUnder } from '../page-plan.ts';
import type {
  PaperFinding,
  PaperMeasurement,
  PaperStanding,
  PaperVerdict,
} from '../paper-parts.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import type { PaperWords } from '../paper-words.ts';
import type { Cell } from '../place-rows.ts';
import { addBullets, addHeading, addParagraph, addRow, type Sheet, stack } from '../sheet.ts';

/** Each finding in plain words, with how sure it is and every reading beside its limit. */
export function addFindings(sheet: Sheet, root: Tag, findings: readonly PaperFinding[]): void {
  if (findings.length === 0) return;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, sheet.words.findings);
  if (findings.some((finding) => finding.measurements.some(hasLimit))) {
    addParagraph(sheet, section, sheet.words.gaugeLegend, TYPE.small, { keepWithNext: true });
    addRow(sheet, { heightPt: 7, cells: [], keepWithNext: true });
  }
  findings.forEach((finding, index) => {
    addFinding(sheet, tagUnder(section, 'Sect'), finding, index === 0 ? 0 : 16);
  });
}

const LABEL_WIDTH_PT = 158;
const GAUGE_X_PT = PAGE.leftPt + LABEL_WIDTH_PT + 14;
const GAUGE_WIDTH_PT = 196;
const VALUE_X_PT = GAUGE_X_PT + GAUGE_WIDTH_PT + 16;
const VALUE_WIDTH_PT = PAGE.leftPt + PAGE.contentWidthPt - VALUE_X_PT;
const PILL_PADDING_PT = 8;

function addFinding(sheet: Sheet, section: Tag, finding: PaperFinding, spaceAbovePt: number): void {
  const { words } = sheet;
  addFindingHeading(sheet, section, finding, spaceAbovePt);
  addParagraph(sheet, section, finding.explanation, TYPE.body, {
    spaceAbovePt: 3,
    keepWithNext: finding.measurements.length > 0,
  });
  const goesOn = [finding.observations, finding.doubts, finding.cautions].some(isNotEmpty);
  finding.measurements.forEach((measurement, index) => {
    const isLast = index === finding.measurements.length - 1;
    addMeasurement(sheet, section, measurement, isLast && goesOn);
  });
  addLabelledBullets(sheet, section, words.observations, finding.observations);
  addLabelledBullets(sheet, section, words.doubts, finding.doubts);
  addLabelledBullets(sheet, section, words.beCareful, finding.cautions);
}

/** The finding's name, and at the line's end its standing in a pill, with what that means below. */
function addFindingHeading(
  sheet: Sheet,
  section: Tag,
  finding: PaperFinding,
  spaceAbovePt: number,
): void {
  const { words, measure } = sheet;
  const { name, standing } = finding;
  const pillText = words.standing[standing];
  const style = { ...TYPE.label, color: standing === 'proven' ? COLOR.white : COLOR.ink };
  const pillWidthPt = measure(pillText, style) + 2 * PILL_PADDING_PT;
  const pillX = PAGE.leftPt + PAGE.contentWidthPt - pillWidthPt;
  const widthPt = PAGE.contentWidthPt - pillWidthPt - 16;
  const heading = layText(name, TYPE.subheading, { xPt: PAGE.leftPt, topPt: 0, widthPt }, measure);
  const pillPlace = { xPt: pillX + PILL_PADDING_PT, topPt: 1.75, widthPt: pillWidthPt };
  const headingTag = tagUnder(section, 'H3');
  addRow(sheet, {
    heightPt: heading.heightPt,
    spaceAbovePt,
    keepWithNext: true,
    cells: [
      { tag: headingTag, inks: heading.inks },
      { tag: tagUnder(section, 'P'), inks: [layLine(pillText, style, pillPlace, measure)] },
    ],
    decoration: pillInks(standing, pillX, pillWidthPt),
  });
  addParagraph(sheet, section, standingMeaning(words, finding), TYPE.small, {
    keepWithNext: true,
  });
}

function standingMeaning(words: PaperWords, finding: PaperFinding): string {
  const { standing, speaksAgainst, offeredBecause } = finding;
  const meaning =
    speaksAgainst === undefined
      ? words.standingMeaning[standing]
      : words.speaksAgainst(speaksAgainst);
  if (offeredBecause === undefined) return meaning;
  return `${meaning} ${words.offeredBecause(offeredBecause)}`;
}

/** Full for proven, tinted for supported, a mere outline for what the evidence does not carry. */
function pillInks(standing: PaperStanding, xPt: number, widthPt: number): Ink[] {
  const pill = (inset: number, fill: string): Ink => ({
    kind: 'rectangle',
    xPt: xPt + inset,
    yPt: inset,
    widthPt: widthPt - 2 * inset,
    heightPt: 15.5 - 2 * inset,
    radiusPt: 7.75 - inset,
    fill,
  });
  const inks: Record<PaperStanding, Ink[]> = {
    proven: [pill(0, COLOR.accent)],
    supported: [pill(0, COLOR.accent), pill(0.9, COLOR.tint)],
    unproven: [pill(0, COLOR.soft), pill(0.9, COLOR.white)],
    contradicted: [pill(0, COLOR.ink), pill(0.9, COLOR.white)],
  };
  return inks[standing];
}

function isNotEmpty(texts: readonly string[]): boolean {
  return texts.length > 0;
}

function addMeasurement(
  sheet: Sheet,
  section: Tag,
  measurement: PaperMeasurement,
  keepWithNext: boolean,
): void {
  const { label, limitText } = measurement;
  const block = tagUnder(section, 'Div');
  const text = stack(
    sheet,
    block,
    [
      { text: label, style: TYPE.strong },
      { text: limitText, style: TYPE.small },
    ],
    { xPt: PAGE.leftPt, topPt: 0, widthPt: LABEL_WIDTH_PT },
  );
  const figure = figureCells(sheet, block, measurement);
  const value = valueCells(sheet, block, measurement);
  addRow(sheet, {
    heightPt: Math.max(text.heightPt, GAUGE_HEIGHT_PT, value.heightPt),
    spaceAbovePt: 11,
    keepWithNext,
    cells: [...text.cells, ...figure, ...value.cells],
  });
}

function hasLimit({ low, high }: PaperMeasurement): boolean {
  return low !== undefined || high !== undefined;
}

/** A reading without any limit has nothing to be drawn against, and so no gauge. */
function figureCells(sheet: Sheet, block: Tag, measurement: PaperMeasurement): Cell[] {
  if (!hasLimit(measurement)) return [];
  const figureBox = {
    xPt: GAUGE_X_PT,
    yPt: 0,
    widthPt: GAUGE_WIDTH_PT,
    heightPt: GAUGE_HEIGHT_PT,
  };
  const inks = gaugeInks(measurement, figureBox, sheet.measure, sheet.words.limit);
  const figure = tagUnder(block, 'Figure', { alt: gaugeAlt(sheet.words, measurement) });
  return [{ tag: figure, inks, figureBox }];
}

function gaugeAlt(words: PaperWords, measurement: PaperMeasurement): string {
  const { label, unit, decimals, verdict, value, uncertainty, low, high } = measurement;
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
  let topPt = 0;
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
  const heightPt = verdictPlace.topPt + verdictLines.heightPt;
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
};

/** A label in the readings' left column, the sentences beside it where the gauges stand. */
function addLabelledBullets(
  sheet: Sheet,
  section: Tag,
  label: string,
  texts: readonly string[],
): void {
  if (texts.length === 0) return;
  const place = { xPt: PAGE.leftPt, topPt: 1, widthPt: LABEL_WIDTH_PT };
  const labelCell = {
    tag: tagUnder(section, 'P'),
    inks: [layLine(`${label} `, TYPE.label, place, sheet.measure)],
  };
  addBullets(sheet, section, texts, TYPE.body, { spaceAbovePt: 8, xPt: GAUGE_X_PT, labelCell });
}
