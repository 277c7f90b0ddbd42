import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { words } from '../../src/customer-pages/words.ts';
import { troublePage } from '../../src/page-frame/index.ts';
import { yesTo } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { addConsumerRules, type Offer, offerAtLink } from '../harness/visitor.ts';
import { expectReadable, openIn, overflowOf, type Way, ways } from './look-at-page.ts';
import { openBrowser } from './open-browser.ts';

let service: TestService;
let browser: Browser;
let offers: Record<'open' | 'limited' | 'accepted' | 'declined' | 'withdrawn', Offer>;
beforeAll(async () => {
  service = await createTestService();
  browser = await openBrowser();
  await addConsumerRules(service);
  offers = {
    open: await offerAtLink(service),
    limited: await offerAtLink(service, { approverLimitCents: 25_000 }),
    accepted: await offerAtLink(service),
    declined: await offerAtLink(service),
    withdrawn: await offerAtLink(service),
  };
  const staff = (offer: Offer, verb: string, body: object) =>
    service
      .as('technician')
      .post(`/v1/quotes/${offer.quote.body.id}/${verb}`, body, { ifMatch: offer.quote.tag });
  const { accepted, declined, withdrawn } = offers;
  expectStatus(await staff(accepted, 'accept', yesTo(accepted.quote)), 200);
  const no = { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off, breaker on.' };
  expectStatus(await staff(declined, 'decline', no), 200);
  expectStatus(await staff(withdrawn, 'withdraw', {}), 200);
});
afterAll(async () => {
  await browser.close();
  await service.close();
});

function baseUrl(host = '127.0.0.1'): string {
  const address = service.app.server.address();
  if (address === null || typeof address === 'string') throw new Error('no port is open');
  return `http://${host}:${address.port}`;
}

const openWith = <T>(
  way: Way,
  look: (page: Page, context: BrowserContext) => Promise<T>,
  javaScriptEnabled = true,
) => openIn(browser, way, look, javaScriptEnabled);

describe.each(ways)('at $width px, $scheme, in $lang', (way) => {
  it.each(['open', 'limited', 'accepted', 'declined', 'withdrawn'] as const)(
    'the page of a quote that is %s can be read and used by everybody',
    async (state) => {
      await openWith(way, async (page) => {
        await page.goto(`${baseUrl()}${offers[state].path}?lang=${way.lang}`);
        expect(page.url()).toBe(`${baseUrl()}${offers[state].page}?lang=${way.lang}`);
        for (const summary of await page.locator('summary').all()) await summary.click();
        await expectReadable(page);
      });
    },
  );

  it('so can a form that came back, and the pages where no quote is', async () => {
    await openWith(way, async (page) => {
      await page.goto(`${baseUrl()}${offers.open.path}?lang=${way.lang}`);
      await page.locator('#answer-1 summary').click();
      await page.fill('#accept-1-name', ' ');
      await page.check('#accept-1-agree');
      await page.click('#answer-1 button');
      // It was sent and came back: the browser itself finds nothing wrong with a blank.
      expect(page.url()).toBe(`${baseUrl()}${offers.open.page}/accept`);
      expect(await page.textContent('.notice h2')).toBe(words[way.lang].mistakes);
      expect(await page.textContent('.wrong')).toBe(words[way.lang].mistake.name);
      expect(await page.inputValue('#accept-1-name')).toBe(' ');
      expect(await page.isChecked('#accept-1-agree')).toBe(true);
      await expectReadable(page);
      await page.goto(`${baseUrl()}/q/nothing?lang=${way.lang}`);
      await expectReadable(page);
      await page.setContent(troublePage(way.lang).toString());
      await expectReadable(page);
    });
  });
});

const phone: Way = { width: 360, scheme: 'light', lang: 'en' };

describe('a browser that runs no script', () => {
  it('accepts by the keyboard alone, from the link to the receipt', async () => {
    const offer = await offerAtLink(service);
    await openWith(
      phone,
      async (page) => {
        await page.goto(`${baseUrl()}${offer.path}`);
        await page.keyboard.press('Tab');
        await page.keyboard.press('Enter');
        // The skip link has led to the answers: the next stop is the first of them.
        await page.keyboard.press('Tab');
        await page.keyboard.press('Enter');
        await page.keyboard.press('Tab');
        await page.keyboard.press('Space');
        await page.keyboard.press('Tab');
        await page.keyboard.type('Winifred Ashgrove');
        await page.keyboard.press('Tab');
        await page.keyboard.press('Enter');
        await page.waitForURL(`**${offer.page}`);
        const receipt = await page.textContent('.receipt');
        expect(receipt).toContain('You said yes');
        expect(receipt).toContain('Option A: Capacitor and drain');
        expect(receipt).toContain('Winifred Ashgrove');
      },
      false,
    );
    const { body } = await service.as('technician').get(`/v1/quotes/${offer.quote.body.id}`);
    expect(body.acceptance).toMatchObject({ through: 'link', totalCents: 29_045 });
  });

  it('declines, is asked for the name before anything is sent, and gets the PDF', async () => {
    const offer = await offerAtLink(service);
    await openWith(
      phone,
      async (page, context) => {
        await page.goto(`${baseUrl()}${offer.path}`);
        await page.locator('#answer-no summary').click();
        await page.click('#answer-no button');
        expect(page.url()).toBe(`${baseUrl()}${offer.page}`);
        await page.fill('#decline-name', 'Winifred Ashgrove');
        await page.click('#answer-no button');
        await page.waitForURL(`**${offer.page}`);
        expect(await page.textContent('.receipt')).toContain('You said no');
        const paper = await context.request.get(`${baseUrl()}${offer.page}/paper`);
        expect(paper.headers()['content-type']).toBe('application/pdf');
      },
      false,
    );
  });
});

describe('a browser', () => {
  it('finds no script in the page, and reports nothing that the policy had to stop', async () => {
    await openWith(phone, async (page) => {
      const complaints: string[] = [];
      page.on('console', (message) => complaints.push(message.text()));
      page.on('pageerror', (error) => complaints.push(error.message));
      await page.goto(`${baseUrl()}${offers.open.path}`);
      expect(await page.evaluate<number>('document.scripts.length')).toBe(0);
      // A browser asks for an icon by itself; that there is none is no complaint of the policy.
      expect(complaints.filter((text) => !text.includes('404'))).toEqual([]);
      expect(await page.evaluate<string>('getComputedStyle(document.body).margin')).toBe('0px');
    });
  });

  // Chromium takes a machine's own addresses for secure, so the Secure cookie works there without
  // TLS; Safari does not, and needs the real https address.
  it.each(['127.0.0.1', 'localhost'])(
    'keeps the __Host- cookie without TLS on %s',
    async (host) => {
      await openWith(phone, async (page, context) => {
        const answer = await page.goto(`${baseUrl(host)}${offers.open.path}`);
        expect(answer?.status()).toBe(200);
        const [cookie] = await context.cookies();
        expect(cookie).toMatchObject({
          name: `__Host-q-${offers.open.quote.body.number}`,
          value: offers.open.token,
          httpOnly: true,
          secure: true,
          sameSite: 'Lax',
          path: '/',
        });
        expect(page.url()).not.toContain(offers.open.token);
        expect(await page.evaluate<string>('document.cookie')).toBe('');
      });
    },
  );

  it('puts options side by side where there is room, and below each other on a phone', async () => {
    const lefts = (page: Page) =>
      page.evaluate<number[]>(
        `[...document.querySelectorAll('.option')].map((each) => each.getBoundingClientRect().left)`,
      );
    for (const [width, columns] of [
      [360, 1],
      [1280, 2],
    ] as const) {
      await openWith({ ...phone, width }, async (page) => {
        await page.goto(`${baseUrl()}${offers.open.path}`);
        expect(new Set(await lefts(page)).size).toBe(columns);
      });
    }
  });

  it('shows everything at twice the size of letters without scrolling sideways', async () => {
    await openWith(phone, async (page) => {
      await page.goto(`${baseUrl()}${offers.open.path}`);
      await page.evaluate(`document.documentElement.style.fontSize = '200%'`);
      for (const summary of await page.locator('summary').all()) await summary.click();
      expect(await overflowOf(page)).toBeLessThanOrEqual(0);
    });
  });
});
