import { existsSync } from 'node:fs';
import { type Browser, chromium, type Page } from 'playwright-core';
import { type InvoicePaperDocument, type Paper, renderPaper } from '../../src/documents/index.ts';
import { createMeasureText } from '../../src/documents/measure-text.ts';
import { planPaper } from '../../src/documents/plan-paper.ts';
import { creditMemo } from '../documents/sample-kinds.ts';
import { capacitorAndContactor, paperWithLines } from '../documents/sample-papers.ts';
import { type Percentiles, percentilesOf, rounded } from './percentiles.ts';
import { planHtml } from './plan-html.ts';

export interface PaperBench {
  pages: number;
  oursMs: Percentiles;
  oursBytes: number;
  /** Null where no Chromium was found. */
  chromium: {
    version: string;
    pages: number;
    ms: Percentiles;
    bytes: number;
    /** Chromium's time over ours, at the median. */
    ratio: number;
  } | null;
}

const warmUps = 15;
const prints = 40;
const rounds = 3;

const shortTotal = { taxCents: 0, totalCents: 7_550 };
const shortDocument: InvoicePaperDocument = {
  position: 1,
  title: 'Document 1 of invoice 2107',
  prices: {
    kind: 'separated',
    lines: [{ description: 'Replace the dual run capacitor', amountCents: 7_550 }],
  },
  taxes: [],
  totalCents: 7_550,
};

/** One page, the common three, and ten. */
const papers: readonly Paper[] = [
  { kind: 'credit_memo', paper: { ...creditMemo, documents: [shortDocument], ...shortTotal } },
  { kind: 'quote', paper: capacitorAndContactor },
  { kind: 'quote', paper: paperWithLines(200) },
];
const pageUrl = `https://evenhand.example/paper/${'0123456789abcdef'.repeat(4)}`;

/**
 * Papers as PDF, by us and by a headless browser that prints the same content from a page it keeps
 * open. The browser lays out with the system's fonts, which is less work than embedding ours from a
 * style sheet would be.
 */
export async function benchPapers(): Promise<PaperBench[]> {
  const browser = await openChromium();
  try {
    const page = await browser?.newPage();
    const benches: PaperBench[] = [];
    for (const paper of papers) benches.push(await benchPaper(paper, browser, page));
    return benches;
  } finally {
    await browser?.close();
  }
}

async function benchPaper(
  paper: Paper,
  browser: Browser | undefined,
  page: Page | undefined,
): Promise<PaperBench> {
  const measure = createMeasureText();
  const html = planHtml(planPaper(paper, { measure, pageUrl, clean: (raw) => raw }));
  const ours = () => renderPaper({ paper, pageUrl, attachments: [] });
  const theirs = page && (() => printed(page, html));
  await repeat(warmUps, ours);
  if (theirs) await repeat(warmUps, theirs);
  const oursMs: number[] = [];
  const theirsMs: number[] = [];
  // Turn about, so that whatever else the machine does falls on both alike.
  for (let round = 0; round < rounds; round += 1) {
    oursMs.push(...(await repeat(prints, ours)));
    if (theirs) theirsMs.push(...(await repeat(prints, theirs)));
  }
  const bytes = await ours();
  const result = {
    pages: pagesIn(bytes),
    oursMs: percentilesOf(oursMs),
    oursBytes: bytes.length,
  };
  if (browser === undefined || theirs === undefined) return { ...result, chromium: null };
  const theirBytes = await theirs();
  const ms = percentilesOf(theirsMs);
  return {
    ...result,
    chromium: {
      version: browser.version(),
      pages: pagesIn(theirBytes),
      ms,
      bytes: theirBytes.length,
      ratio: rounded(ms.p50 / result.oursMs.p50),
    },
  };
}

async function openChromium(): Promise<Browser | undefined> {
  const places = [process.env['CHROMIUM_PATH'], '/usr/bin/chromium', '/usr/bin/chromium-browser'];
  const executablePath = places.find((place) => place !== undefined && existsSync(place));
  if (executablePath === undefined) return undefined;
  return chromium.launch({ executablePath, headless: true, args: FLAGS });
}

const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

async function printed(page: Page, html: string): Promise<Uint8Array> {
  await page.setContent(html);
  return page.pdf({ preferCSSPageSize: true, printBackground: true, tagged: true });
}

async function repeat(times: number, print: () => Promise<unknown>): Promise<number[]> {
  const ms: number[] = [];
  for (let at = 0; at < times; at += 1) {
    const start = performance.now();
    await print();
    ms.push(performance.now() - start);
  }
  return ms;
}

/** Pages by their own entry in the file; neither renderer hides it in a compressed object. */
function pagesIn(bytes: Uint8Array): number {
  return [
    ...Buffer.from(bytes)
      .toString('latin1')
      .matchAll(/\/Type\s*\/Page\b(?!s)/g),
  ].length;
}
