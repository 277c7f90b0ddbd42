import { createHash, generateKeyPairSync } from 'node:crypto';
import { existsSync } from 'node:fs';
import os from 'node:os';
import { type Browser, chromium, type Page } from 'playwright-core';
import {
  type InvoicePaperDocument,
  type Paper,
  type PaperOption,
  type QuotePaper,
  renderPaper,
} from '../../src/documents/index.ts';
import { createMeasureText } from '../../src/documents/measure-text.ts';
import { planPaper } from '../../src/documents/plan-paper.ts';
import { createPress, type Press } from '../../src/press/index.ts';
import { type PaperKey, paperKeyOf } from '../../src/proof/load-paper-key.ts';
import { sealPaper } from '../../src/proof/seal-paper.ts';
import { creditMemo } from '../documents/sample-kinds.ts';
import { capacitorAndContactor, paperWithLines } from '../documents/sample-papers.ts';
import { type Percentiles, percentilesOf, rounded } from './percentiles.ts';
import { planHtml } from './plan-html.ts';

export interface PaperBench {
  pages: number;
  /** How much ran on the machine in the minute of these prints. */
  load: number;
  /** From plain data to bytes, on the thread that asks: layout, drawings, code, tags, typefaces. */
  drawnMs: Percentiles;
  drawnBytes: number;
  /** Processor time of one paper, which depends less on what else the machine does. */
  drawnCpuMs: number;
  /** As a customer is handed it: drawn on the press's thread, signed, data and signature inside. */
  handedOutMs: Percentiles;
  handedOutBytes: number;
  /** Null where no Chromium was found. */
  chromium: {
    version: string;
    pages: number;
    ms: Percentiles;
    bytes: number;
    /** Chromium's time over that of drawing, at the median. */
    ratio: number;
    /** And over that of handing out. */
    handedOutRatio: number;
  } | null;
}

const warmUps = 40;
const prints = 120;

/** One page, the common three, and ten. */
const papers: readonly ((turn: number) => Paper)[] = [
  oneDocumentMemo,
  (turn) => ({ kind: 'quote', paper: anotherQuote(capacitorAndContactor, turn) }),
  (turn) => ({ kind: 'quote', paper: anotherQuote(paperWithLines(200), turn) }),
];

/**
 * Papers as PDF, by us and by a headless browser that prints the same content, tagged, from a page
 * it keeps open. Every print is of another paper: other names, numbers, amounts and address in the
 * code, so that nobody is measured at printing what they still remember. The browser lays out with
 * the system's typefaces, which is less work than embedding ours from a style sheet would be.
 */
export async function benchPapers(): Promise<PaperBench[]> {
  const browser = await openChromium();
  const press = createPress({ workers: 1, waitingMax: 1 });
  const key = paperKeyOf(generateKeyPairSync('ed25519').privateKey);
  try {
    const page = await browser?.newPage();
    const benches: PaperBench[] = [];
    for (const paperOf of papers) {
      benches.push(await benchPaper(paperOf, { press, key }, browser, page));
    }
    return benches;
  } finally {
    await press.close();
    await browser?.close();
  }
}

interface Desk {
  press: Press;
  key: PaperKey;
}

async function benchPaper(
  paperOf: (turn: number) => Paper,
  desk: Desk,
  browser: Browser | undefined,
  page: Page | undefined,
): Promise<PaperBench> {
  const drawnMs: number[] = [];
  const handedOutMs: number[] = [];
  const theirMs: number[] = [];
  let [drawn, handedOut, theirs] = [NOTHING, NOTHING, NOTHING];
  // Turn about, so that whatever else the machine does falls on all alike.
  for (let turn = 0; turn < warmUps + prints; turn += 1) {
    const paper = paperOf(turn);
    const html = planHtml(planPaper(paper, { ...PLAN, pageUrl: pageUrlOf(paper) }));
    const isWarm = turn >= warmUps;
    drawn = await timed(isWarm ? drawnMs : [], () => draw(paper));
    handedOut = await timed(isWarm ? handedOutMs : [], () => handOut(paper, desk));
    if (page) theirs = await timed(isWarm ? theirMs : [], () => printed(page, html));
  }
  const result = {
    pages: pagesIn(drawn),
    load: rounded(os.loadavg()[0]),
    drawnMs: percentilesOf(drawnMs),
    drawnBytes: drawn.length,
    drawnCpuMs: await cpuMsOf(paperOf),
    handedOutMs: percentilesOf(handedOutMs),
    handedOutBytes: handedOut.length,
  };
  if (browser === undefined) return { ...result, chromium: null };
  const ms = percentilesOf(theirMs);
  return {
    ...result,
    chromium: {
      version: browser.version(),
      pages: pagesIn(theirs),
      ms,
      bytes: theirs.length,
      ratio: rounded(ms.p50 / result.drawnMs.p50),
      handedOutRatio: rounded(ms.p50 / result.handedOutMs.p50),
    },
  };
}

const PLAN = { measure: createMeasureText(), clean: (raw: string) => raw };
const NOTHING: Uint8Array = new Uint8Array();

function draw(paper: Paper): Promise<Uint8Array> {
  return renderPaper({ paper, pageUrl: pageUrlOf(paper), attachments: [] });
}

async function handOut(paper: Paper, { press, key }: Desk): Promise<Uint8Array> {
  const { bytes } = await sealPaper({
    paper,
    number: paper.paper.contentHash?.slice(0, 8) ?? '',
    language: paper.paper.language,
    pageUrl: pageUrlOf(paper),
    key,
    draw: (sheet) => press.draw(sheet),
  });
  return bytes;
}

function pageUrlOf({ paper }: Paper): string {
  return `https://evenhand.example/paper/${paper.contentHash}`;
}

async function cpuMsOf(paperOf: (turn: number) => Paper): Promise<number> {
  const sheets = Array.from({ length: prints }, (_, turn) => paperOf(warmUps + prints + turn));
  const before = process.cpuUsage();
  for (const paper of sheets) await draw(paper);
  const { user, system } = process.cpuUsage(before);
  return rounded((user + system) / 1_000 / prints);
}

function oneDocumentMemo(turn: number): Paper {
  const amountCents = 7_550 + ((turn * 7_919) % 90_000);
  const document: InvoicePaperDocument = {
    position: 1,
    title: `Document 1 of invoice ${2_107 + turn}`,
    prices: {
      kind: 'separated',
      lines: [{ description: 'Replace the dual run capacitor', amountCents }],
    },
    taxes: [],
    totalCents: amountCents,
  };
  return {
    kind: 'credit_memo',
    paper: {
      ...creditMemo,
      memoNumber: String(31 + turn),
      invoiceNumber: String(2_107 + turn),
      payer: { name: nameOf(turn) },
      documents: [document],
      taxCents: 0,
      totalCents: amountCents,
      contentHash: hashOf(turn),
    },
  };
}

/** A quote with each of its amounts another, for somebody else. */
function anotherQuote(quote: QuotePaper, turn: number): QuotePaper {
  return {
    ...quote,
    quoteNumber: `Q-${10_042 + turn}`,
    customer: { name: nameOf(turn) },
    contentHash: hashOf(turn),
    options: quote.options.map((option) => ({ ...option, ...otherAmounts(option, turn) })),
  };
}

function otherAmounts({ prices, taxes }: PaperOption, turn: number) {
  if (prices.kind !== 'separated') throw new Error('The samples have separate prices.');
  let subtotalCents = 0;
  const groups = prices.groups.map((group, groupAt) => ({
    ...group,
    lines: group.lines.map((line, lineAt) => {
      const unitPriceCents =
        100 + (((turn + 1) * 7_919 + groupAt * 131 + lineAt * 10_007) % 90_000);
      const amountCents = 2 * unitPriceCents;
      subtotalCents += amountCents;
      return { ...line, quantityText: '2', unitPriceCents, amountCents };
    }),
  }));
  const taxCents = taxes.reduce((sum, tax) => sum + tax.amountCents, 0);
  return {
    prices: { kind: 'separated' as const, groups, subtotalCents },
    totalCents: subtotalCents + taxCents,
  };
}

/** Invented, and with other letters each time. */
function nameOf(turn: number): string {
  const letters = createHash('sha256')
    .update(`name ${turn}`)
    .digest('base64')
    .replace(/[^a-z]/g, '');
  return `M${letters.slice(0, 6)} T${letters.slice(6, 14)}`;
}

function hashOf(turn: number): string {
  return createHash('sha256').update(String(turn)).digest('hex');
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

/** @param ms takes how long it was */
async function timed(ms: number[], print: () => Promise<Uint8Array>): Promise<Uint8Array> {
  const start = performance.now();
  const bytes = await print();
  ms.push(performance.now() - start);
  return bytes;
}

/** Pages by their own entry in the file; neither renderer hides it in a compressed object. */
function pagesIn(bytes: Uint8Array): number {
  return [
    ...Buffer.from(bytes)
      .toString('latin1')
      .matchAll(/\/Type\s*\/Page\b(?!s)/g),
  ].length;
}
