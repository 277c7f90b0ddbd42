import { subsetFor } from './common-subset.ts';
import { hasDirections, withoutDirectionMarks } from './direction-marks.ts';
import { embedFont } from './embed-font.ts';
import { PageOperators, type UsedFace, type UsedFaces } from './page-operators.ts';
import type { Mark, PagePlan, Tag, TagMeaning } from './page-plan.ts';
import { type PaperFaces, plainFaces } from './paper-faces.ts';
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
import { subsetCoded } from './subset-face.ts';
import { UsedScripts } from './used-scripts.ts';

/**
 * Draws planned pages as a tagged PDF (PDF/UA-1, ISO 14289-1). The same plan gives the same bytes:
 * the file's dates come from the plan, and nothing else in it depends on where or when it is drawn.
 */
export function drawPages(plan: PagePlan, faces: PaperFaces = plainFaces()): Uint8Array {
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
  new Press(pdf, plan, faces).draw();
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

  constructor(pdf: PdfDocument, plan: PagePlan, faces: PaperFaces) {
    const { regular, semibold } = faces.plain;
    this.#pdf = pdf;
    this.#plan = plan;
    this.#faces = {
      paper: faces,
      plain: {
        regular: { face: regular, name: 'F1', words: new Set() },
        semibold: { face: semibold, name: 'F2', words: new Set() },
      },
      scripts: new UsedScripts(),
    };
    this.#operators = new PageOperators(this.#faces);
    for (const { name } of this.#plain()) this.#fonts[name] = pdf.ref({ Type: 'Font' });
  }

  draw(): void {
    this.#goToPage(0);
    const tree = this.#pdf.getStructTreeRoot();
    tree.data['K'] = [this.#drawTag(this.#plan.root, tree)];
    this.#goToPage(this.#plan.pages.length - 1);
    this.#finishPage();
    for (const { face, name, words } of this.#plain()) {
      embedFont(this.#pdf, this.#font(name), face.font, subsetFor(face, words));
    }
    for (const { face, name, glyphs } of this.#faces.scripts) {
      embedFont(this.#pdf, this.#font(name), face.font, subsetCoded(face.font, glyphs));
    }
  }

  #plain(): UsedFace[] {
    return Object.values(this.#faces.plain);
  }

  #font(name: string): PdfReference {
    const known = this.#fonts[name];
    if (known !== undefined) return known;
    const made = this.#pdf.ref({ Type: 'Font' });
    this.#fonts[name] = made;
    return made;
  }

  /** Draws what hangs under a tag; returns its element in the tree that a screen reader walks. */
  #drawTag({ type, meaning, children }: Tag, parent: PdfReference): PdfReference {
    const element = this.#pdf.ref({ S: type, P: parent, ...meaningEntries(meaning) });
    const { data } = element;
    data['K'] = joinMarks(children).map((child): PdfEntry => {
      if (child.kind === 'tag') return this.#drawTag(child, element);
      const said = this.#faces.paper.scripts.length === 0 ? undefined : saidFromRight(child);
      if (said !== undefined) return this.#drawSaid(child, said, element);
      const { page, identifier } = this.#drawMark(child, type, element);
      // What stands on the page that the element names is found there by its number alone.
      data['Pg'] ??= page;
      return data['Pg'] === page ? identifier : { Type: 'MCR', Pg: page, MCID: identifier };
    });
    element.end();
    return element;
  }

  /**
   * What is read from right to left stands on the page as it is seen, and its element says it as it
   * is read (ISO 32000-1, 14.9.4). Said on the page itself, it would be turned around once more by
   * readers that take text from pages by its place: PDFium and Poppler do so.
   */
  #drawSaid(mark: Mark, said: string, parent: PdfReference): PdfReference {
    const element = this.#pdf.ref({ S: 'Span', P: parent, ActualText: pdfText(said) });
    const { page, identifier } = this.#drawMark(mark, 'Span', element);
    Object.assign(element.data, { Pg: page, K: [identifier] });
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
      for (const { name } of this.#plain()) this.#pdf.page.fonts[name] = this.#font(name);
      const page = this.#plan.pages[this.#pageIndex];
      this.#operators.drawArtifact('Layout', page?.decoration ?? []);
      this.#operators.drawArtifact('Pagination', page?.repeatedHeader ?? []);
    }
  }

  #finishPage(): void {
    const page = this.#plan.pages[this.#pageIndex];
    this.#operators.drawArtifact('Pagination', page?.footer ?? []);
    for (const name of this.#operators.scriptNames) {
      this.#pdf.page.fonts[name] = this.#font(name);
    }
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

/** @returns undefined for ink that is read in the order in which it is seen */
function saidFromRight({ inks }: Mark): string | undefined {
  const texts = inks.flatMap((ink) => (ink.kind === 'text' ? [ink.text] : []));
  return texts.some(hasDirections) ? withoutDirectionMarks(texts.join('')).trimEnd() : undefined;
}

/** What an element says of itself (ISO 32000-1, 14.7.2, 14.8.5.4, 14.8.5.5 and 14.8.5.7). */
function meaningEntries({ alt, expanded, box, bullet, scope, columnSpan = 1 }: TagMeaning) {
  const entries: PdfDictionary = {};
  if (alt !== undefined) entries['Alt'] = pdfText(withoutDirectionMarks(alt));
  if (expanded !== undefined) entries['E'] = pdfText(withoutDirectionMarks(expanded));
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

/** pdfkit writes the title into the file's XML metadata as it is; these characters would break it. */
function metadataText(text: string): string {
  return withoutDirectionMarks(text)
    .replace(/\s*&\s*/g, ' + ')
    .replace(/[<>]/g, '');
}
