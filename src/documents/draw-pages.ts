import { subsetFor } from './common-subset.ts';
import { PageOperators, type UsedFace, type UsedFaces } from './page-operators.ts';
import type { Mark, PagePlan, Tag, TagMeaning } from './page-plan.ts';
import { paperFonts } from './paper-fonts.ts';
import { paperRenderer } from './paper-renderer.ts';
import { PAGE } from './paper-style.ts';
import {
  openPdf,
  type PdfDictionary,
  type PdfDocument,
  type PdfEntry,
  type PdfReference,
  pdfText,
} from './pdf-document.ts';

/**
 * Draws planned pages as a tagged PDF (PDF/UA-1, ISO 14289-1). The same plan gives the same bytes:
 * the file's dates come from the plan, and nothing else in it depends on where or when it is drawn.
 */
export function drawPages(plan: PagePlan): Uint8Array {
  const createdAt = new Date(plan.createdAt);
  const pdf = openPdf({
    size: [PAGE.widthPt, PAGE.heightPt],
    margin: 0,
    pdfVersion: '1.7',
    subset: 'PDF/UA',
    tagged: true,
    displayTitle: true,
    lang: plan.language,
    autoFirstPage: false,
    font: '',
    info: {
      Title: metadataText(plan.title),
      Subject: metadataText(plan.subject),
      Creator: 'Evenhand',
      Producer: paperRenderer,
      CreationDate: createdAt,
      ModDate: createdAt,
    },
  });
  new Press(pdf, plan).draw();
  return pdf.finish();
}

/** Walks the plan in reading order and turns pages as the ink calls for them. */
class Press {
  readonly #pdf: PdfDocument;
  readonly #plan: PagePlan;
  readonly #faces: UsedFaces;
  readonly #fonts: Record<string, PdfReference> = {};
  #pageIndex = -1;
  #operators: PageOperators;

  constructor(pdf: PdfDocument, plan: PagePlan) {
    const { regular, semibold } = paperFonts();
    this.#pdf = pdf;
    this.#plan = plan;
    this.#faces = {
      regular: { face: regular, name: 'F1', words: new Set() },
      semibold: { face: semibold, name: 'F2', words: new Set() },
    };
    this.#operators = new PageOperators(this.#faces);
    for (const { name } of this.#used()) this.#fonts[name] = pdf.ref({ Type: 'Font' });
  }

  draw(): void {
    this.#goToPage(0);
    const tree = this.#pdf.getStructTreeRoot();
    tree.data['K'] = [this.#drawTag(this.#plan.root, tree)];
    this.#goToPage(this.#plan.pages.length - 1);
    this.#finishPage();
    for (const used of this.#used()) embed(this.#pdf, used, this.#fonts[used.name]);
  }

  #used(): UsedFace[] {
    return Object.values(this.#faces);
  }

  /** Draws what hangs under a tag; returns its element in the tree that a screen reader walks. */
  #drawTag({ type, meaning, children }: Tag, parent: PdfReference): PdfReference {
    const element = this.#pdf.ref({ S: type, P: parent, ...meaningEntries(meaning) });
    const { data } = element;
    data['K'] = joinMarks(children).map((child): PdfEntry => {
      if (child.kind === 'tag') return this.#drawTag(child, element);
      const { page, identifier } = this.#drawMark(child, type, element);
      // What stands on the page that the element names is found there by its number alone.
      data['Pg'] ??= page;
      return data['Pg'] === page ? identifier : { Type: 'MCR', Pg: page, MCID: identifier };
    });
    element.end();
    return element;
  }

  #drawMark({ pageIndex, inks }: Mark, type: string, element: PdfReference) {
    this.#goToPage(pageIndex);
    const { page } = this.#pdf;
    const owners = this.#pdf.getStructParentTree().get(page.structParentTreeKey);
    const identifier = owners.push(element) - 1;
    this.#operators.drawContent(type, identifier, inks);
    return { page: page.dictionary, identifier };
  }

  #goToPage(pageIndex: number): void {
    while (this.#pageIndex < pageIndex) {
      if (this.#pageIndex >= 0) this.#finishPage();
      this.#pageIndex += 1;
      this.#pdf.addPage();
      this.#operators = new PageOperators(this.#faces);
      Object.assign(this.#pdf.page.fonts, this.#fonts);
      const page = this.#plan.pages[this.#pageIndex];
      this.#operators.drawArtifact('Layout', page?.decoration ?? []);
      this.#operators.drawArtifact('Pagination', page?.repeatedHeader ?? []);
    }
  }

  #finishPage(): void {
    const page = this.#plan.pages[this.#pageIndex];
    this.#operators.drawArtifact('Pagination', page?.footer ?? []);
    this.#pdf.addContent(this.#operators.bytes);
  }
}

/** Neighboring lines of one paragraph on one page become one piece of marked content. */
function joinMarks(children: readonly (Tag | Mark)[]): (Tag | Mark)[] {
  if (children.length === 1) return [...children];
  const joined: (Tag | Mark)[] = [];
  for (const child of children) {
    const previous = joined.at(-1);
    if (
      child.kind === 'mark' &&
      previous?.kind === 'mark' &&
      previous.pageIndex === child.pageIndex
    ) {
      joined.pop();
      joined.push({ ...previous, inks: [...previous.inks, ...child.inks] });
    } else {
      joined.push(child);
    }
  }
  return joined;
}

/** What an element says of itself (ISO 32000-1, 14.7.2, 14.8.5.4, 14.8.5.5 and 14.8.5.7). */
function meaningEntries({ alt, expanded, box, bullet, scope, columnSpan = 1 }: TagMeaning) {
  const entries: PdfDictionary = {};
  if (alt !== undefined) entries['Alt'] = pdfText(alt);
  if (expanded !== undefined) entries['E'] = pdfText(expanded);
  if (box !== undefined) {
    const topPt = PAGE.heightPt - box.yPt;
    const corners = [box.xPt, topPt - box.heightPt, box.xPt + box.widthPt, topPt];
    entries['A'] = { O: 'Layout', Placement: 'Block', BBox: corners };
  }
  if (bullet !== undefined) entries['A'] = { O: 'List', ListNumbering: bullet };
  if (scope !== undefined) {
    const span = columnSpan > 1 ? { ColSpan: columnSpan } : {};
    entries['A'] = { O: 'Table', Scope: scope, ...span };
  }
  return entries;
}

/** Writes a typeface into the file, as far as the words drawn in it need it (ISO 32000-1, 9.7). */
function embed(pdf: PdfDocument, { face, words }: UsedFace, font: PdfReference | undefined): void {
  if (font === undefined) return;
  const { program, programBytes, places, widths, unicode } = subsetFor(face, words);
  const { bbox, ascent, descent, capHeight, italicAngle, postscriptName, unitsPerEm } = face.font;
  const perMille = (units: number) => (units * 1_000) / unitsPerEm;
  const name = `${SUBSET_TAG}+${postscriptName}`;
  const descriptor = ended(pdf, {
    Type: 'FontDescriptor',
    FontName: name,
    Flags: SYMBOLIC,
    FontBBox: [bbox.minX, bbox.minY, bbox.maxX, bbox.maxY].map(perMille),
    ItalicAngle: italicAngle,
    Ascent: perMille(ascent),
    Descent: perMille(descent),
    CapHeight: perMille(capHeight),
    StemV: 0,
    FontFile2: ended(pdf, { Filter: 'FlateDecode', Length1: programBytes }, program),
  });
  const descendant = ended(pdf, {
    Type: 'Font',
    Subtype: 'CIDFontType2',
    BaseFont: name,
    CIDSystemInfo: { Registry: pdfText('Adobe'), Ordering: pdfText('Identity'), Supplement: 0 },
    FontDescriptor: descriptor,
    W: widths,
    CIDToGIDMap: ended(pdf, { Filter: 'FlateDecode' }, places),
  });
  Object.assign(font.data, {
    Subtype: 'Type0',
    BaseFont: name,
    Encoding: 'Identity-H',
    DescendantFonts: [descendant],
    ToUnicode: ended(pdf, { Filter: 'FlateDecode' }, unicode),
  });
  font.end();
}

/** Six capitals before its name say that a typeface is not there as a whole. */
const SUBSET_TAG = 'EVNHND';
/** Its glyphs go by their own numbers, not by those of a usual set of letters. */
const SYMBOLIC = 4;

function ended(pdf: PdfDocument, data: PdfDictionary, bytes?: Uint8Array): PdfReference {
  const reference = pdf.ref(data);
  reference.end(bytes);
  return reference;
}

/** pdfkit writes the title into the file's XML metadata as it is; these characters would break it. */
function metadataText(text: string): string {
  return text.replace(/\s*&\s*/g, ' + ').replace(/[<>]/g, '');
}
