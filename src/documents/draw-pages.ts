import type { Ink, Mark, MeasureText, PagePlan, Tag, TagMeaning, TextStyle } from './page-plan.ts';
import type { PaperAttachment } from './paper.ts';
import { paperFonts } from './paper-fonts.ts';
import { paperRenderer } from './paper-renderer.ts';
import { PAGE } from './paper-style.ts';
import {
  openPdf,
  type PdfDocument,
  type PdfStructureElement,
  type PdfStructureOptions,
} from './pdf-document.ts';

/**
 * Draws planned pages as a tagged PDF (PDF/UA-1, ISO 14289-1). The same plan gives the same bytes:
 * the file's dates come from the plan, and nothing else in it depends on where or when it is drawn.
 * @param attachments files that go with the pages, in any order: they are kept by their names
 */
export function drawPages(
  plan: PagePlan,
  attachments: readonly PaperAttachment[] = [],
): Promise<Uint8Array> {
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
  registerFonts(pdf);
  const bytes = collect(pdf);
  const press = new Press(pdf, plan);
  press.goToPage(0);
  const root = pdf.struct(plan.root.type, {});
  pdf.addStructure(root);
  press.drawChildren(plan.root, root);
  press.finish();
  attachAll(pdf, attachments, createdAt);
  pdf.end();
  return bytes;
}

/** Measures texts in the faces that `drawPages` sets them in. */
export function createMeasureText(): MeasureText {
  const fonts = paperFonts();
  const widths = new Map<string, number>();
  return (text, style) => {
    const key = `${style.face}${text}`;
    let widthEm = widths.get(key);
    if (widthEm === undefined) {
      const font = fonts[style.face];
      widthEm = wordsOf(text).reduce((sum, word) => sum + font.layout(word).advanceWidth, 0);
      widthEm /= font.unitsPerEm;
      widths.set(key, widthEm);
    }
    return widthEm * style.sizePt;
  };
}

/** pdfkit shapes text word by word, each with the space that follows it; measuring does as it does. */
function wordsOf(text: string): string[] {
  return text.match(/[^ ]* |[^ ]+/g) ?? [];
}

/** Walks the plan in reading order and turns pages as the ink calls for them. */
class Press {
  readonly #pdf: PdfDocument;
  readonly #plan: PagePlan;
  #pageIndex = -1;

  constructor(pdf: PdfDocument, plan: PagePlan) {
    this.#pdf = pdf;
    this.#plan = plan;
  }

  drawChildren(parent: Tag, element: PdfStructureElement): void {
    for (const child of joinMarks(parent.children)) {
      if (child.kind === 'mark') {
        this.goToPage(child.pageIndex);
        element.add(() => drawInks(this.#pdf, child.inks));
      } else {
        const childElement = this.#pdf.struct(child.type, structureOptions(child.meaning));
        writeAttributes(childElement, child.meaning);
        element.add(childElement);
        this.drawChildren(child, childElement);
      }
    }
    element.end();
  }

  goToPage(pageIndex: number): void {
    while (this.#pageIndex < pageIndex) {
      this.#finishPage();
      this.#pageIndex += 1;
      this.#pdf.addPage();
      const page = this.#plan.pages[this.#pageIndex];
      drawArtifact(this.#pdf, 'Layout', page?.decoration ?? []);
      drawArtifact(this.#pdf, 'Pagination', page?.repeatedHeader ?? []);
    }
  }

  finish(): void {
    this.goToPage(this.#plan.pages.length - 1);
    this.#finishPage();
  }

  #finishPage(): void {
    const page = this.#plan.pages[this.#pageIndex];
    drawArtifact(this.#pdf, 'Pagination', page?.footer ?? []);
  }
}

/** Neighboring lines of one paragraph on one page become one piece of marked content. */
function joinMarks(children: readonly (Tag | Mark)[]): (Tag | Mark)[] {
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

function structureOptions({ alt, expanded, box }: TagMeaning): PdfStructureOptions {
  const options: PdfStructureOptions = {};
  if (alt !== undefined) options.alt = alt;
  if (expanded !== undefined) options.expanded = expanded;
  if (box !== undefined) {
    options.bbox = [box.xPt, box.yPt, box.xPt + box.widthPt, box.yPt + box.heightPt];
  }
  return options;
}

/** Attributes of tables and lists (ISO 32000-1, 14.8.5.5 and 14.8.5.7). */
function writeAttributes(element: PdfStructureElement, meaning: TagMeaning): void {
  if (meaning.bullet !== undefined) {
    element.dictionary.data.A = { O: 'List', ListNumbering: meaning.bullet };
  }
  if (meaning.scope !== undefined) {
    const span = meaning.columnSpan ?? 1;
    element.dictionary.data.A = {
      O: 'Table',
      Scope: meaning.scope,
      ...(span > 1 ? { ColSpan: span } : {}),
    };
  }
}

function drawArtifact(pdf: PdfDocument, type: 'Pagination' | 'Layout', inks: readonly Ink[]): void {
  if (inks.length === 0) return;
  pdf.markContent('Artifact', { type });
  drawInks(pdf, inks);
  pdf.endMarkedContent();
}

function drawInks(pdf: PdfDocument, inks: readonly Ink[]): void {
  for (const ink of inks) drawInk(pdf, ink);
}

function drawInk(pdf: PdfDocument, ink: Ink): void {
  switch (ink.kind) {
    case 'text':
      useStyle(pdf, ink.style);
      pdf.text(ink.text, ink.xPt, ink.baselinePt, AS_PLACED);
      return;
    case 'rectangle':
      pdf.fillColor(ink.fill);
      pdf.roundedRect(ink.xPt, ink.yPt, ink.widthPt, ink.heightPt, ink.radiusPt).fill();
      return;
    case 'line':
      pdf.strokeColor(ink.color).lineWidth(ink.widthPt);
      pdf
        .moveTo(...ink.fromPt)
        .lineTo(...ink.toPt)
        .stroke();
      return;
    case 'circle':
      pdf.fillColor(ink.fill).strokeColor(ink.stroke).lineWidth(1.5);
      pdf.circle(...ink.centerPt, ink.radiusPt).fillAndStroke();
      return;
    case 'polygon':
      pdf.fillColor(ink.fill);
      pdf.polygon(...ink.pointsPt).fill();
      return;
    case 'blocks':
      pdf.fillColor(ink.fill);
      for (const { xPt, yPt, widthPt, heightPt } of ink.blocks) {
        pdf.rect(xPt, yPt, widthPt, heightPt);
      }
      pdf.fill();
  }
}

/** The layout has measured and placed it; it is not measured again. */
const AS_PLACED = { lineBreak: false, baseline: 'alphabetic', textWidth: 0, wordCount: 0 } as const;

function useStyle(pdf: PdfDocument, style: TextStyle): void {
  pdf.font(style.face).fontSize(style.sizePt).fillColor(style.color);
}

function attachAll(
  pdf: PdfDocument,
  attachments: readonly PaperAttachment[],
  createdAt: Date,
): void {
  const byName = [...attachments].sort((one, other) => (one.name < other.name ? -1 : 1));
  for (const { name, mediaType, description, bytes, relationship } of byName) {
    pdf.file(bytes, {
      name,
      type: mediaType,
      description,
      relationship,
      creationDate: createdAt,
      modifiedDate: createdAt,
    });
  }
}

function registerFonts(pdf: PdfDocument): void {
  const fonts = paperFonts();
  pdf.registerFont('regular', fonts.regular);
  pdf.registerFont('semibold', fonts.semibold);
}

/** pdfkit writes the title into the file's XML metadata as it is; these characters would break it. */
function metadataText(text: string): string {
  return text.replace(/\s*&\s*/g, ' + ').replace(/[<>]/g, '');
}

function collect(pdf: PdfDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    pdf.on('data', (chunk) => chunks.push(chunk));
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    pdf.on('error', reject);
  });
}
