import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { LENGTH } from '../../src/documents/clean-parts.ts';
import { type Paper, renderPaper } from '../../src/documents/index.ts';
import { drawableText, openPaperFaces, type PaperFaces } from '../../src/documents/paper-faces.ts';
import { paperText } from '../../src/documents/paper-text.ts';
import { paperTexts } from '../../src/documents/paper-texts.ts';
import { caseSeed as seed } from '../harness/case-seed.ts';
import { checkTaggedPdf } from './check-tagged-pdf.ts';
import { isPromised } from './promised-scripts.ts';
import { randomPaper } from './random-paper.ts';
import { readPageTexts } from './read-pdf.ts';
import { saidBy } from './said-by.ts';

const PAPERS = 500;
const pageUrl = `https://evenhand.example/paper/${'0123456789abcdef'.repeat(4)}`;

/**
 * Where text goes over to the next line is no concern of what is said, nor how accents and vowels of
 * two parts are written. Taken apart, they are the same wherever in a text they stand.
 */
function unspaced(text: string): string {
  return text.replace(/\s+/g, '').normalize('NFD');
}

/** A letter of a promised script stands for itself, whatever the code under test has for it. */
function asPrinted(letters: readonly string[], faces: PaperFaces): string {
  return unspaced(
    letters.map((each) => (isPromised(each) ? each : drawableText(each, faces))).join(''),
  );
}

/**
 * The ways in which a text may stand on paper: whole, or cut where its place ends, the longest first.
 */
function waysToPrint(text: string, faces: PaperFaces): string[] {
  const letters = Array.from(paperText(text, Number.MAX_SAFE_INTEGER));
  const cut = [...new Set(Object.values(LENGTH))]
    .filter((lengthMax) => lengthMax >= LENGTH.name && lengthMax < letters.length)
    .sort((one, other) => other - one)
    .map((lengthMax) => `${asPrinted(letters.slice(0, lengthMax - 1), faces)}…`);
  return [asPrinted(letters, faces), ...cut];
}

/** The first of what a paper holds that is not found after all that comes before it. */
function firstLost(paper: Paper, body: string, faces: PaperFaces): string | undefined {
  let position = 0;
  for (const text of saidBy(paper)) {
    if (text === undefined) continue;
    const ways = waysToPrint(text, faces);
    const found = ways
      .map((piece) => ({ piece, at: body.indexOf(piece, position) }))
      .filter(({ at }) => at !== -1)
      .sort((one, other) => one.at - other.at)[0];
    if (found === undefined)
      return `'${ways[0]}' after '${body.slice(Math.max(0, position - 80), position)}'`;
    position = found.at + found.piece.length;
  }
  return undefined;
}

describe(`five hundred random papers of all kinds, seed ${seed}`, () => {
  const papers = fc.sample(randomPaper(), { numRuns: PAPERS, seed });
  let pagesMost = 0;
  const unsound: string[] = [];
  const lost: string[] = [];

  beforeAll(async () => {
    for (const [index, paper] of papers.entries()) {
      const bytes = await renderPaper({ paper, pageUrl, attachments: [] });
      const name = `paper ${index} (${paper.kind}, ${paper.paper.language})`;
      for (const problem of await checkTaggedPdf(bytes)) unsound.push(`${name}: ${problem}`);
      const pages = await readPageTexts(bytes);
      pagesMost = Math.max(pagesMost, pages.length);
      const faces = await openPaperFaces(paperTexts(paper));
      const missing = firstLost(paper, unspaced(pages.map(({ body }) => body).join('')), faces);
      if (missing !== undefined) lost.push(`${name}: ${missing}`);
    }
  }, 400_000);

  it('are of every kind in both languages, and some of many pages', () => {
    const kinds = new Set(papers.map(({ kind, paper }) => `${kind} ${paper.language}`));
    expect(kinds.size).toBe(12);
    expect(pagesMost).toBeGreaterThan(10);
  });

  it('break no rule of PDF/UA-1 that our checker knows, and lack no glyph', () => {
    expect(unsound).toEqual([]);
  });

  it('say everything they hold, every amount to the cent, in the order a person reads it', () => {
    expect(lost).toEqual([]);
  });
});
