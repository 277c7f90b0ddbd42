import { PDFDocument } from 'pdf-lib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { words } from '../../src/paper-pages/words.ts';
import { registerKey } from '../../src/papers/index.ts';
import { PAPER_BYTES_MAX } from '../../src/proof/index.ts';
import { arriveAtJob, findCapacitor } from '../harness/job.ts';
import { testKey, testPapers } from '../harness/test-papers.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { type Offer, offerAtLink } from '../harness/visitor.ts';
import { acceptOnly, offer } from '../harness/whole-job.ts';
import { edited } from '../proof/tamper.ts';
import { expectReadable, openIn, type Way, ways } from './look-at-page.ts';
import { openBrowser } from './open-browser.ts';

let service: TestService;
let browser: Browser;
let open: Offer;
let acceptedHash: string;
let files: Record<'genuine' | 'altered' | 'foreign' | 'tooLarge', Uint8Array>;
beforeAll(async () => {
  const papers = testPapers({ publicUrl: () => 'https://jobs.example.com' });
  service = await createTestService({ papers });
  const context = { db: service.db, now: service.clock.now(), newId: () => crypto.randomUUID() };
  await registerKey(context, testKey.publicKey);
  browser = await openBrowser();
  open = await offerAtLink(service);
  const job = await arriveAtJob(service);
  const accepted = await offer(service, job, [await findCapacitor(service, job)]);
  await acceptOnly(service, accepted);
  acceptedHash = accepted.body.contentHash;
  const genuine = await fileOf(open.job.ticketId);
  files = {
    genuine,
    altered: await edited(genuine, (_, page) => page.drawText('$104.90', { x: 300, y: 400 })),
    foreign: await foreignFile(),
    tooLarge: new Uint8Array(PAPER_BYTES_MAX + 1_000_000),
  };
});
// One address may send so many files in one go.
beforeEach(() => service.clock.advance(10 * 60_000));
afterAll(async () => {
  await browser.close();
  await service.close();
});

async function fileOf(ticketId: string): Promise<Uint8Array> {
  const staff = service.as('dispatcher');
  const { items } = (await staff.get(`/v1/papers?ticketId=${ticketId}`)).body;
  const answer = await staff.get(`/v1/papers/${items[0].id}/file`);
  return new Uint8Array(expectStatus(answer, 200).body);
}

async function foreignFile(): Promise<Uint8Array> {
  const document = await PDFDocument.create();
  document.addPage().drawText('Quote 1001: $1.00');
  return document.save();
}

function baseUrl(): string {
  const address = service.app.server.address();
  if (address === null || typeof address === 'string') throw new Error('no port is open');
  return `http://127.0.0.1:${address.port}`;
}

async function send(page: Page, lang: Way['lang'], bytes: Uint8Array): Promise<void> {
  await page.goto(`${baseUrl()}/verify?lang=${lang}`);
  const file = { name: 'paper.pdf', mimeType: 'application/pdf', buffer: Buffer.from(bytes) };
  await page.setInputFiles('#file', file);
  await page.click('.send-file button');
  await page.waitForSelector('.judged, .notice');
}

describe.each(ways)('at $width px, $scheme, in $lang', (way) => {
  const { lang } = way;

  it('the page of a paper, asked for its link, one that was accepted and one that never was can be read by everybody', async () => {
    await openIn(browser, way, async (page) => {
      await page.goto(`${baseUrl()}/paper/${open.quote.body.contentHash}?lang=${lang}`);
      expect(await page.title()).toContain(String(open.quote.body.number));
      await expectReadable(page);
      await page.click('main form button');
      await page.waitForURL('**link=asked');
      expect(await page.textContent('[role=status]')).toContain(words[lang].again.asked);
      await expectReadable(page);
      for (const hash of [acceptedHash, 'never']) {
        await page.goto(`${baseUrl()}/paper/${hash}?lang=${lang}`);
        await expectReadable(page);
      }
      expect(await page.title()).toContain(words[lang].missing.title);
    });
  });

  it('a file is sent in, and what comes of it can be read by everybody: genuine, altered, unknown, too large', async () => {
    await openIn(browser, way, async (page) => {
      await page.goto(`${baseUrl()}/verify?lang=${lang}`);
      await expectReadable(page);
      const headlines: string[] = [];
      for (const bytes of [files.genuine, files.altered, files.foreign]) {
        await send(page, lang, bytes);
        headlines.push((await page.textContent('h1')) ?? '');
        expect(await page.title()).toContain(headlines.at(-1)?.replace(/\.$/, ''));
        await expectReadable(page);
      }
      const said = {
        en: [/^Genuine: /, /^Altered: /, /^We cannot tell: /],
        es: [/^Auténtico: /, /^Alterado: /, /^No lo podemos saber: /],
      }[lang];
      for (const [at, pattern] of said.entries()) expect(headlines[at]).toMatch(pattern);
      await send(page, lang, files.tooLarge);
      expect(await page.textContent('.notice h2')).toBe(words[lang].verify.unread.too_large.title);
      await expectReadable(page);
    });
  });
});

const phone: Way = { width: 360, scheme: 'light', lang: 'en' };

describe('a browser', () => {
  it('that runs no script sends a file by the keyboard and finds its way from the verdict to the paper', async () => {
    await openIn(
      browser,
      phone,
      async (page) => {
        await page.goto(`${baseUrl()}/verify`);
        const buffer = Buffer.from(files.genuine);
        await page.setInputFiles('#file', { name: 'a.pdf', mimeType: 'application/pdf', buffer });
        await page.focus('#file');
        await page.keyboard.press('Tab');
        await page.keyboard.press('Enter');
        await page.waitForSelector('.judged-genuine');
        await page.click('.found a.paper');
        expect(page.url()).toBe(`${baseUrl()}/paper/${open.quote.body.contentHash}?lang=en`);
      },
      false,
    );
  });

  it('asks for the file before anything is sent', async () => {
    await openIn(browser, phone, async (page) => {
      await page.goto(`${baseUrl()}/verify`);
      await page.click('.send-file button');
      expect(page.url()).toBe(`${baseUrl()}/verify`);
      expect(await page.locator('.notice').count()).toBe(0);
    });
  });

  it('finds nothing on these pages that the policy had to stop', async () => {
    await openIn(browser, phone, async (page) => {
      const complaints: string[] = [];
      page.on('console', (message) => complaints.push(message.text()));
      page.on('pageerror', (error) => complaints.push(error.message));
      await page.goto(`${baseUrl()}/paper/${open.quote.body.contentHash}`);
      await send(page, 'en', files.altered);
      expect(await page.evaluate<number>('document.scripts.length')).toBe(0);
      // A browser asks for an icon by itself; that there is none is no complaint of the policy.
      expect(complaints.filter((text) => !text.includes('404'))).toEqual([]);
    });
  });

  it('shows each verdict with a shape of its own', async () => {
    await openIn(browser, phone, async (page) => {
      const shapes: string[] = [];
      for (const bytes of [files.genuine, files.altered, files.foreign]) {
        await send(page, 'en', bytes);
        shapes.push(await page.locator('.mark').innerHTML());
      }
      expect(new Set(shapes).size).toBe(3);
      // They are seen where a reader's own colors take the place of ours, too.
      await page.emulateMedia({ forcedColors: 'active' });
      expect((await page.locator('.mark').boundingBox())?.width).toBeGreaterThan(40);
    });
  });

  it('shows everything at twice the size of letters without scrolling sideways', async () => {
    await openIn(browser, phone, async (page) => {
      for (const path of [`/paper/${open.quote.body.contentHash}`, '/verify']) {
        await page.goto(`${baseUrl()}${path}`);
        await page.evaluate(`document.documentElement.style.fontSize = '200%'`);
        const over = 'document.documentElement.scrollWidth - window.innerWidth';
        expect(await page.evaluate<number>(over)).toBeLessThanOrEqual(0);
      }
    });
  });
});
