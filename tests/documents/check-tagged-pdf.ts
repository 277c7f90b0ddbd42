import {
  isArray,
  isDict,
  listOf,
  type PdfDict,
  type PdfValue,
  type ReadPage,
  type ReadPdf,
  readPdf,
} from './read-pdf.ts';

/**
 * What is wrong with a file that says it is PDF/UA-1, each in one sentence; nothing when all is
 * well. The rules are those of ISO 14289-1 (section 7) that can be read off the bytes, from memory
 * of the standard and of the Matterhorn Protocol's list of failures.
 */
export async function checkTaggedPdf(bytes: Uint8Array): Promise<string[]> {
  const pdf = await readPdf(bytes);
  const problems: string[] = [];
  checkCatalog(pdf, problems);
  const marked = pdf.pages.map((page, index) => checkContent(page, index + 1, problems));
  pdf.pages.forEach((page) => {
    checkFonts(page, problems);
  });
  checkTree(pdf, marked, problems);
  return [...new Set(problems)];
}

function checkCatalog({ catalog, metadataXml, infoTitle }: ReadPdf, problems: string[]): void {
  const markInfo = catalog.get('MarkInfo');
  if (!isDict(markInfo) || markInfo.get('Marked') !== true) problems.push('not marked as tagged');
  if (typeof catalog.get('Lang') !== 'string') problems.push('no language');
  const preferences = catalog.get('ViewerPreferences');
  if (!isDict(preferences) || preferences.get('DisplayDocTitle') !== true) {
    problems.push('the title is not what a viewer shows');
  }
  if (!infoTitle) problems.push('no title');
  if (!/<pdfuaid:part>1<\/pdfuaid:part>/.test(metadataXml)) problems.push('not declared PDF/UA-1');
  if (!/<dc:title>/.test(metadataXml)) problems.push('no title in the metadata');
  if (/&(?!(amp|lt|gt|quot|apos|#\d+);)/.test(metadataXml)) problems.push('metadata is not XML');
}

function checkFonts(page: ReadPage, problems: string[]): void {
  for (const font of page.fonts) {
    const name = String(font.get('BaseFont'));
    if (!isDict(font.get('ToUnicode'))) problems.push(`${name} has no map to characters`);
    const [descendant] = listOf(font.get('DescendantFonts'));
    const descriptor = isDict(descendant) ? descendant.get('FontDescriptor') : undefined;
    const file = isDict(descriptor)
      ? (descriptor.get('FontFile2') ?? descriptor.get('FontFile3'))
      : undefined;
    if (!isDict(file)) problems.push(`${name} is not embedded`);
  }
}

/** Walks a page's operators; returns the marked content identifiers it met, in order. */
function checkContent(page: ReadPage, pageNumber: number, problems: string[]): number[] {
  const identifiers: number[] = [];
  const open: ('content' | 'artifact' | 'other')[] = [];
  let operands: string[] = [];
  let places: Uint8Array = new Uint8Array();
  for (const token of page.content.match(TOKEN) ?? []) {
    if (!/^[A-Za-z'"]+\*?$/.test(token)) {
      operands.push(token);
      continue;
    }
    if (token === 'BDC' || token === 'BMC') {
      const identifier = /\/MCID (\d+)/.exec(operands.join(' '))?.[1];
      if (identifier !== undefined) identifiers.push(Number(identifier));
      if (operands[0] === '/Artifact') open.push('artifact');
      else open.push(identifier === undefined ? 'other' : 'content');
    } else if (token === 'EMC') {
      if (open.pop() === undefined) problems.push(`page ${pageNumber} ends what it never began`);
    } else if (token === 'Tf') {
      places = page.glyphPlaces.get(operands[0]?.slice(1) ?? '') ?? new Uint8Array();
    } else if (PAINTING.has(token)) {
      if (!open.includes('content') && !open.includes('artifact')) {
        problems.push(`page ${pageNumber} shows something that is neither content nor artifact`);
      }
      if (operands.some((operand) => lacksGlyph(operand, places))) {
        problems.push(`page ${pageNumber} shows a character that its font does not have`);
      }
    }
    operands = [];
  }
  if (open.length > 0) problems.push(`page ${pageNumber} does not end what it began`);
  if (page.dict.get('Tabs') !== 'S') problems.push(`page ${pageNumber} has no tab order`);
  if (new Set(identifiers).size !== identifiers.length) {
    problems.push(`page ${pageNumber} uses an identifier twice`);
  }
  return identifiers;
}

/** A glyph is missing where its number leads to the first in the font, or past the map's end. */
function lacksGlyph(operand: string, places: Uint8Array): boolean {
  if (!operand.startsWith('<') || operand.startsWith('<<')) return false;
  return (operand.match(/[0-9a-fA-F]{4}/g) ?? []).some((code) => {
    const at = 2 * Number.parseInt(code, 16);
    return ((places[at] ?? 0) << 8) + (places[at + 1] ?? 0) === 0;
  });
}

const TOKEN = /<<[\s\S]*?>>|<[0-9a-fA-F]*>|\/[^\s<>[\]/()]+|[[\]]|[^\s<>[\]/]+/g;
const PAINTING = new Set(['Tj', 'TJ', 'f', 'F', 'f*', 'S', 's', 'B', 'B*', 'b', 'b*', 'Do', 'sh']);

interface Walk {
  problems: string[];
  pageIndexByReference: Map<string, number>;
  identifiers: number[][];
  headingLevel: number;
  headings: number;
}

function checkTree(pdf: ReadPdf, marked: readonly number[][], problems: string[]): void {
  const root = pdf.catalog.get('StructTreeRoot');
  if (!isDict(root)) {
    problems.push('no structure tree');
    return;
  }
  const walk: Walk = {
    problems,
    pageIndexByReference: new Map(pdf.pages.map((page, index) => [page.reference, index])),
    identifiers: pdf.pages.map(() => []),
    headingLevel: 0,
    headings: 0,
  };
  for (const kid of listOf(root.get('K'))) {
    if (isDict(kid)) walkElement(kid, undefined, walk);
  }
  marked.forEach((identifiers, index) => {
    const inTree = walk.identifiers[index] ?? [];
    if (inTree.join() !== identifiers.join()) {
      problems.push(`page ${index + 1} is not read in the order it is written`);
    }
  });
  if (walk.headings === 0) problems.push('no headings');
}

function walkElement(element: PdfDict, parent: string | undefined, walk: Walk): void {
  const type = String(element.get('S'));
  checkElement(element, type, parent, walk);
  for (const kid of listOf(element.get('K'))) {
    if (typeof kid === 'number') addIdentifier(element.reference('Pg'), kid, walk);
    else if (isDict(kid) && kid.get('Type') === 'MCR') {
      addIdentifier(kid.reference('Pg'), Number(kid.get('MCID')), walk);
    } else if (isDict(kid)) walkElement(kid, type, walk);
  }
}

function addIdentifier(page: string | undefined, identifier: number, walk: Walk): void {
  const index = walk.pageIndexByReference.get(page ?? '');
  if (index === undefined) walk.problems.push('content without a page');
  else walk.identifiers[index]?.push(identifier);
}

function checkElement(
  element: PdfDict,
  type: string,
  parent: string | undefined,
  walk: Walk,
): void {
  const { problems } = walk;
  const heading = /^H([1-6])$/.exec(type)?.[1];
  if (heading !== undefined) {
    const level = Number(heading);
    if (level > walk.headingLevel + 1) problems.push(`${type} follows H${walk.headingLevel}`);
    walk.headingLevel = level;
    walk.headings += 1;
  }
  const place = PARENTS[type];
  if (place !== undefined && !place.includes(parent ?? '')) problems.push(`${type} in ${parent}`);
  if (type === 'TH' && typeof attribute(element, 'Scope') !== 'string') {
    problems.push('a header cell without scope');
  }
  if (type === 'Figure') {
    if (!element.get('Alt')) problems.push('a figure without its text');
    const box = attribute(element, 'BBox');
    if (!isArray(box) || box.items.length !== 4) problems.push('a figure without its place');
  }
  if (type === 'L' && typeof attribute(element, 'ListNumbering') !== 'string') {
    problems.push('a list that does not say how it is numbered');
  }
  if (type === 'Table') checkTable(element, problems);
}

const PARENTS: Record<string, string[]> = {
  TR: ['Table', 'THead', 'TBody', 'TFoot'],
  TH: ['TR'],
  TD: ['TR'],
  THead: ['Table'],
  TBody: ['Table'],
  LI: ['L'],
  Lbl: ['LI'],
  LBody: ['LI'],
};

/** Every row must span as many columns as the first. */
function checkTable(table: PdfDict, problems: string[]): void {
  const rows = listOf(table.get('K'))
    .filter(isDict)
    .flatMap((part) => (part.get('S') === 'TR' ? [part] : listOf(part.get('K')).filter(isDict)));
  const widths = rows.map((row) =>
    listOf(row.get('K'))
      .filter(isDict)
      .reduce((sum, cell) => sum + Number(attribute(cell, 'ColSpan') ?? 1), 0),
  );
  if (new Set(widths).size > 1) problems.push('a table whose rows are not equally wide');
}

function attribute(element: PdfDict, name: string): PdfValue {
  for (const attributes of listOf(element.get('A'))) {
    const value = isDict(attributes) ? attributes.get(name) : undefined;
    if (value !== undefined) return value;
  }
  return undefined;
}
