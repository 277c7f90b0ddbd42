import { layText } from '../lay-text.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import { qrCode } from '../qr-code.ts';
import { addParagraph, addRow, type Sheet, stack } from '../sheet.ts';

/** What a paper can be checked by: its hash, and where anyone can look it up. */
export interface Fingerprint {
  contentHash?: string | undefined;
  pageUrl?: string | undefined;
}

/** The code that leads to the paper's page, beside it the address in words and the hash. */
export function addFingerprint(
  sheet: Sheet,
  root: Tag,
  { contentHash, pageUrl }: Fingerprint,
): void {
  const { words } = sheet;
  keepLastWithNext(sheet);
  const hash = contentHash === undefined ? '' : `${words.contentHash}: ${contentHash}`;
  if (pageUrl !== undefined) addCode(sheet, tagUnder(root, 'Sect'), pageUrl, hash);
  else if (hash !== '') addParagraph(sheet, tagUnder(root, 'Sect'), hash, TYPE.tick, ALONE);
}

/** A code alone on the last page belongs to nothing: it takes along what stands above it. */
function keepLastWithNext({ rows }: Sheet): void {
  const last = rows.at(-1);
  if (last !== undefined) last.keepWithNext = true;
}

const ALONE = { spaceAbovePt: 14 };
/** An address of 90 letters comes to modules of 0.46 mm: any phone reads them. */
const CODE_SIZE_PT = 64;
const TEXT_X_PT = PAGE.leftPt + CODE_SIZE_PT + 14;

function addCode(sheet: Sheet, section: Tag, pageUrl: string, hash: string): void {
  const { words, measure } = sheet;
  const texts = [
    { text: words.checkHere, style: TYPE.label },
    { text: words.checkHow, style: TYPE.small },
    { text: pageUrl, style: TYPE.tick, spaceAbovePt: 4 },
    { text: hash, style: TYPE.tick, spaceAbovePt: 2 },
  ];
  const widthPt = PAGE.leftPt + PAGE.contentWidthPt - TEXT_X_PT;
  const textHeightPt = texts.reduce(
    (sum, { text, style, spaceAbovePt = 0 }) =>
      sum + spaceAbovePt + layText(text, style, { xPt: 0, topPt: 0, widthPt }, measure).heightPt,
    0,
  );
  const sizePt = CODE_SIZE_PT;
  const { quietPt, inkAt } = qrCode(pageUrl, sizePt);
  const place = { xPt: PAGE.leftPt, yPt: quietPt };
  const figure = tagUnder(section, 'Figure', { alt: words.codeAlt(pageUrl) });
  const code = {
    tag: figure,
    inks: [inkAt(place.xPt, place.yPt)],
    figureBox: { ...place, widthPt: sizePt, heightPt: sizePt },
  };
  const heightPt = Math.max(sizePt + 2 * quietPt, textHeightPt);
  const topPt = (heightPt - textHeightPt) / 2;
  const beside = stack(sheet, section, texts, { xPt: TEXT_X_PT, topPt, widthPt });
  addRow(sheet, { heightPt, spaceAbovePt: 12, cells: [code, ...beside.cells] });
}
