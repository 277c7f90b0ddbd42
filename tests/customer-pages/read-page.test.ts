import { randomBytes } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { quoteAt } from '../../src/customer-pages/quote-at.ts';
import { quotePage } from '../../src/customer-pages/quote-page.ts';
import { createLog } from '../../src/platform/log.ts';
import { linkOf } from '../../src/quote-links/index.ts';
import { atTime } from '../harness/fixed-clock.ts';
import { addSite, issueQuote } from '../harness/job.ts';
import { rowsOfAll } from '../harness/rows-of-all.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import {
  hiddenFields,
  makeLink,
  noForm,
  type Offer,
  offerAtLink,
  visit,
} from '../harness/visitor.ts';

const lines: string[] = [];
let service: TestService;
let offer: Offer;
beforeAll(async () => {
  const log = createLog('trace', { write: (line) => void lines.push(line) });
  service = await createTestService({ log });
  offer = await offerAtLink(service);
});
afterAll(() => service.close());

describe('the link', () => {
  it('leads to a page whose address has no secret, and gives the browser a cookie instead', async () => {
    const entered = expectStatus(await (await visit(service)).get(offer.path), 303);
    expect(entered.headers['location']).toBe(offer.page);
    expect(entered.headers['set-cookie']).toEqual([
      `__Host-q-${offer.quote.body.number}=${offer.token}; Max-Age=86400; Path=/; Secure; HttpOnly; SameSite=Lax`,
    ]);
    expect(entered.headers['referrer-policy']).toBe('no-referrer');
    expect(entered.headers['cache-control']).toBe('no-store');
  });

  it('may be opened by whatever looks at every link in a mail: that changes nothing', async () => {
    const before = await rowsOfAll(service);
    const scanner = await visit(service);
    const { page } = offer;
    for (const path of [offer.path, page, `${page}?lang=es`, `${page}/accept`, `${page}/closed`]) {
      await scanner.head(path);
      await scanner.get(path);
    }
    expect(expectStatus(await scanner.get(page), 200).text).toContain('Su respuesta');
    expect(await rowsOfAll(service)).toEqual(before);
  });

  it('opens one and the same page for what never was, has run out or was revoked', async () => {
    const revoked = await offerAtLink(service);
    expectStatus(
      await service.as('dispatcher').post(`/v1/quote-links/${revoked.linkId}/revoke`),
      200,
    );
    const old = await offerAtLink(service);
    const reader = await visit(service, old);
    const pages = [
      await (await visit(service)).get(`/q/${randomBytes(32).toString('base64url')}`),
      await (await visit(service)).get('/q/short'),
      await (await visit(service)).get(revoked.path),
      await (await visit(service)).get('/your-quote'),
      await (await visit(service)).get('/your-quote/first'),
      await (await visit(service)).get(offer.page),
      await (await visit(service)).get(`${offer.page}/paper`),
      await (await visit(service)).get('/your-quote/99999999'),
    ];
    await atTime(service.clock, '2026-08-28T05:00:00Z', async () => {
      pages.push(await (await visit(service)).get(old.path), await reader.get(old.page));
    });
    const sameElsewhere = (text: string) => text.replaceAll(/\/your-quote\/\d+\?/g, '/your-quote?');
    for (const page of pages) {
      expectStatus(page, 404);
      expect(sameElsewhere(page.text)).toBe(pages[0]?.text);
    }
    expect(pages[0]?.text).toContain('There is no quote here');
  });

  it.each(['/', '/accept', '/decline', '/cancel', '/leave'])(
    'that a refused form or a slip leaves in the address bar leads back to the page: …%s',
    async (end) => {
      const back = await (await visit(service, offer)).get(`${offer.page}${end}`);
      expect(expectStatus(back, 303).headers['location']).toBe(offer.page);
    },
  );

  it('with a slash behind it opens the page all the same', async () => {
    const entered = expectStatus(await (await visit(service)).get(`${offer.path}/`), 303);
    expect(entered.headers['location']).toBe(offer.page);
  });

  it.each([
    ['a percent sign behind it', () => `${offer.path}%`],
    ['letters that are none', () => '/q/%zz'],
    ['more behind it', () => `${offer.path}/more`],
    ['far too many letters', () => `/q/${'a'.repeat(130)}`],
    ['none at all', () => '/q/'],
    ['half of an address', () => '/your-quote/'],
    ['an address nobody has', () => '/your-quote/1004/nothing'],
    ['no number', () => '/your-quote/first/accept'],
  ])('with %s leads to a page for people, and tells no more than any other', async (_, path) => {
    const page = await (await visit(service)).get(path(), { 'accept-language': 'es' });
    expect(expectStatus(page, 404).headers['content-type']).toBe('text/html; charset=utf-8');
    expect(page.text).toContain('Aquí no hay ningún presupuesto');
    expect(page.text).not.toContain(offer.token);
    expect(page.headers['content-security-policy']).toContain("default-src 'none'");
    expect(page.headers['cache-control']).toBe('no-store');
  });

  it.each(['192.168.1.20:3000', 'quotes.example.com', '[fe80::1]:3000'])(
    'opened without TLS, where no browser keeps its cookie, says what is missing: %s',
    async (host) => {
      const refused = await (await visit(service)).get(offer.path, { host });
      expect(expectStatus(refused, 403).text).toContain('This page needs https');
      expect(refused.text).toContain('Esta página necesita https');
      expect(refused.text).not.toContain('?lang=');
      expect(refused.headers['set-cookie']).toBeUndefined();
      expect(refused.text).not.toContain(offer.token);
    },
  );

  it.each(['localhost:3000', '127.0.0.1:3000', '[::1]:3000'])(
    'opens without TLS on the machine itself: %s',
    async (host) => {
      expectStatus(await (await visit(service)).get(offer.path, { host }), 303);
    },
  );

  it('is in no line of the log and in no answer, whatever was done with it', async () => {
    const someone = await visit(service, offer);
    const refusals = [
      await someone.get(`/q/${offer.token}/more`),
      await someone.get(`/Q/${offer.token}`),
      await someone.post(offer.path, {}),
    ];
    await someone.get(offer.page);
    await someone.post(`${offer.page}/accept`, { name: 'x' });
    expect(lines.length).toBeGreaterThan(20);
    expect(lines.join('')).not.toContain(offer.token);
    for (const refused of refusals) expect(refused.text).not.toContain(offer.token);
    expect(lines.join('')).toContain('/q/[left out]');
  });
});

describe('the page', () => {
  it('says what was found, each reading against its limit, in a picture and in words', async () => {
    const { text } = await (await visit(service, offer)).get(offer.page);
    expect(text).toContain('Weak or failed run capacitor, compressor section');
    const words = text.replaceAll('μ', 'µ');
    expect(words).toContain(
      'aria-label="Run capacitor, compressor section. We measured 30.9 µF, give or take 0.9. ' +
        'Allowed: 40.5 µF or more. Outside limits."',
    );
    expect(words).toContain('<b>30.9 µF</b>');
    expect(words).toContain('Outside limits');
    expect(words).toContain('Marked 45 µF. Should be 40.5 µF or more');
  });

  it('has for each option every line with its amount, what it is made of, and the total', async () => {
    const { text } = await (await visit(service, offer)).get(offer.page);
    const words = textOf(text);
    for (const option of offer.quote.body.options) {
      expect(words).toContain(`Option ${option.position === 1 ? 'A' : 'B'}: ${option.title}`);
      expect(words).toContain(dollars(option.totalCents));
      for (const line of option.lines) expect(words).toContain(dollars(line.amountCents));
    }
    expect(words).toContain('30 minutes / 60 × $150.97 an hour = $75.49.');
    expect(words).toContain(`You pay ${dollars(offer.quote.body.declineTotalCents)} for the visit`);
  });

  it('says who answers for it, how long it stands, and which quote it is', async () => {
    const { text } = await (await visit(service, offer)).get(offer.page);
    const words = textOf(text);
    expect(words).toContain('License INVENTED-0417');
    expect(words).toContain('Quill County Board of Mechanical Trades (invented), 555-0199');
    expect(words).toContain('These prices stand until the end of August 13, 2026.');
    expect(text).toContain('href="tel:5550100"');
    expect(words).toContain(offer.quote.body.contentHash.slice(0, 4));
    expect(text).toContain(
      `<input type="hidden" name="hash" value="${offer.quote.body.contentHash}">`,
    );
  });

  it('runs nothing and loads nothing but its own style sheet', async () => {
    const visitor = await visit(service, offer);
    const page = await visitor.get(offer.page);
    expect(page.headers['content-security-policy']).toBe(
      "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; " +
        "frame-ancestors 'none'; base-uri 'none'",
    );
    expect(page.headers['x-robots-tag']).toBe('noindex, nofollow');
    expect(page.headers['cache-control']).toBe('no-store');
    expect(page.headers['referrer-policy']).toBe('same-origin');
    expect(page.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(page.text).not.toMatch(/<script|<style|\sstyle=|\son\w+=|javascript:/i);
    const [, sheet = ''] = /rel="stylesheet" href="([^"]+)"/.exec(page.text) ?? [];
    const css = expectStatus(await visitor.get(sheet), 200);
    expect(css.headers['content-type']).toBe('text/css; charset=utf-8');
    expect(css.headers['cache-control']).toContain('immutable');
    expect(css.text).not.toContain('url(');
    // Browsers ask for it by themselves, and an error would stand in their console.
    expectStatus(await visitor.get('/favicon.ico'), 204);
  });

  it('gives a PDF that is drawn and kept once, at the first look, and changes nothing else', async () => {
    const own = await offerAtLink(service);
    const visitor = await visit(service, own);
    const before = await rowsOfAll(service);
    expectStatus(await visitor.get(`${own.page}/paper`), 200);
    const after = await rowsOfAll(service);
    const grown = Object.keys(after).filter((table) => after[table] !== before[table]);
    expect(grown).toEqual(['document', 'journal_entry', 'journal_unsealed', 'paper_file']);
    expectStatus(await visitor.get(`${own.page}/paper`), 200);
    expect(await rowsOfAll(service)).toEqual(after);
  });

  it('gives the very PDF that our staff see', async () => {
    const paper = expectStatus(await (await visit(service, offer)).get(`${offer.page}/paper`), 200);
    const path = `/v1/quotes/${offer.quote.body.id}/paper`;
    const ours = expectStatus(await service.as('technician').get(path), 200);
    expect(paper.headers['content-type']).toBe('application/pdf');
    expect(Buffer.compare(paper.body, ours.body)).toBe(0);
    expect(paper.headers['content-disposition']).toBe('inline; filename="quote-1001-r1.pdf"');
  });

  it('shows names and titles as they were typed, and never as part of the page', async () => {
    const site = await addSite(service);
    const path = `/v1/customers/${site.customerId}`;
    const tag = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
    const name = `<img src=x onerror="alert('1')">`;
    expectStatus(await service.as('dispatcher').patch(path, { name }, { ifMatch: tag }), 200);
    const hostile = await offerAtLink(service, { site });
    const { text } = await (await visit(service, hostile)).get(hostile.page);
    expect(text).not.toContain('<img');
    expect(text).toContain('For &lt;img src=x onerror=&quot;alert(&#39;1&#39;)&quot;&gt;');
  });

  it('shows the newest issued revision, and says that it takes the place of earlier ones', async () => {
    const { quote } = await offerAtLink(service);
    const { path, page } = await makeLink(service, quote);
    const visitor = await visit(service, { path });
    const revised = await service.as('technician').post(
      `/v1/quotes/${quote.body.id}/revise`,
      {
        options: [{ title: 'Less of it', findingIds: quote.body.options[1].lines[1].findingIds }],
      },
      { ifMatch: quote.tag },
    );
    expectStatus(revised, 200);
    expect((await visitor.get(page)).text).not.toContain('Less of it');
    await issueQuote(service, { body: revised.body, tag: revised.headers['etag'] ?? '' });
    const { text } = await visitor.get(page);
    expect(text).toContain('Less of it');
    expect(text).toContain('Revision 2. It takes the place of any earlier one');
  });
});

describe('the language', () => {
  const titles = { en: 'Your answer', es: 'Su respuesta' };

  it('is the one asked for, which is kept for the next look', async () => {
    const visitor = await visit(service, offer);
    const asked = await visitor.get(`${offer.page}?lang=es`);
    expect(asked.text).toContain('<html lang="es">');
    expect(asked.text).toContain(titles.es);
    expect(asked.headers['content-language']).toBe('es');
    expect((await visitor.get(offer.page)).text).toContain(titles.es);
    expect((await visitor.get(`${offer.page}?lang=en`)).text).toContain(titles.en);
    expect((await visitor.get(offer.page)).text).toContain(titles.en);
  });

  it('is otherwise what we know of the customer, whatever the browser prefers', async () => {
    const site = await addSite(service);
    const path = `/v1/customers/${site.customerId}`;
    const tag = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
    const spanish = { language: 'es' };
    expectStatus(await service.as('dispatcher').patch(path, spanish, { ifMatch: tag }), 200);
    const theirs = await offerAtLink(service, { site });
    const page = await (await visit(service, theirs)).get(theirs.page, {
      'accept-language': 'en-US,en;q=0.9',
    });
    expect(page.text).toContain(titles.es);
  });

  it('is the browser’s where English is only what stands on record when nobody asked', async () => {
    const page = await (await visit(service, offer)).get(offer.page, {
      'accept-language': 'es-US,es;q=0.9',
    });
    expect(page.text).toContain(titles.es);
  });

  it('goes on from a page to what it leads to: closing it, a form that was refused, the PDF', async () => {
    const site = await addSite(service);
    const path = `/v1/customers/${site.customerId}`;
    const tag = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
    const spanish = { language: 'es' };
    expectStatus(await service.as('dispatcher').patch(path, spanish, { ifMatch: tag }), 200);
    const theirs = await offerAtLink(service, { site });
    const visitor = await visit(service, theirs);
    const { text } = await visitor.get(theirs.page);
    expect(text).toContain(`href="${theirs.page}/paper?lang=es"`);
    const form = hiddenFields(text, `${theirs.page}/decline`);
    const elsewhere = { 'sec-fetch-site': 'cross-site' };
    const refused = await visitor.post(`${theirs.page}/decline`, form, elsewhere);
    expect(refused.text).toContain('Por favor responda en esta misma página');
    const leave = hiddenFields(text, `${theirs.page}/leave`);
    const left = await visitor.post(`${theirs.page}/leave`, leave);
    const closed = await visitor.get(expectStatus(left, 303).headers['location'] ?? '');
    expect(closed.text).toContain('Cerrado en este dispositivo');
  });

  it('of a page without a quote is changed on that very page, and kept', async () => {
    const visitor = await visit(service);
    const closed = `${offer.page}/closed`;
    const { text } = await visitor.get(closed);
    expect(text).toContain(`href="${closed}?lang=es"`);
    const spanish = await visitor.get(`${closed}?lang=es`);
    expect(spanish.text).toContain('Cerrado en este dispositivo');
    expect((await visitor.get('/q/nothing')).text).toContain('Aquí no hay ningún presupuesto');
  });

  it('is that of the quote as well: its findings and its PDF', async () => {
    const visitor = await visit(service, offer);
    const { text } = await visitor.get(`${offer.page}?lang=es`);
    expect(text).toContain('<h3 lang="es">Capacitor de marcha débil o dañado');
    expect(text).not.toContain('se emitió en inglés');
    const paper = expectStatus(await visitor.get(`${offer.page}/paper`), 200);
    expect(paper.headers['content-disposition']).toContain('presupuesto-1001-r1.pdf');
  });

  it('of a quote that was issued in English alone is English where it speaks, and says so', async () => {
    const { prisma } = service.db;
    const link = await linkOf(prisma, offer.token, service.clock.now());
    if (link === undefined) throw new Error('the link opens nothing');
    const quote = await quoteAt(prisma, link, service.clock.now());
    const old = { ...quote, papers: { en: quote.papers.en, es: undefined } };
    const page = quotePage(old, { language: 'es', now: service.clock.now() }).toString();
    expect(page).toContain('<html lang="es">');
    expect(page).toContain('El texto de este presupuesto se emitió en inglés.');
    expect(page).toContain('<h3 lang="en">Weak or failed run capacitor');
    expect(page).toContain('Lo que encontramos');
  });

  it.each([
    ['es-MX,es;q=0.9,en;q=0.8', 'Aquí no hay ningún presupuesto'],
    ['fr;q=0.9, en;q=0.1, es;q=0.5', 'Aquí no hay ningún presupuesto'],
    ['es;q=0, en;q=0.3', 'There is no quote here'],
    ['fr', 'There is no quote here'],
  ])('is the browser’s where we know nobody: %s', async (header, title) => {
    const page = await (await visit(service)).get('/q/nothing', { 'accept-language': header });
    expect(page.text).toContain(title);
  });

  it.each(['fr', 'EN', '"><script>', ''])('is never anything else: ?lang=%s', async (lang) => {
    const visitor = await visit(service, offer);
    const page = await visitor.get(`${offer.page}?lang=${encodeURIComponent(lang)}`);
    expect(expectStatus(page, 200).text).toContain('<html lang="en">');
    expect(String(page.headers['set-cookie'])).not.toContain('__Host-lang');
  });
});

describe('when the database is away', () => {
  it('the page says so in both languages, without a letterhead, and claims nothing of the answer', async () => {
    const own = await createTestService({ log: createLog('silent', { write: () => undefined }) });
    const theirs = await offerAtLink(own);
    const visitor = await visit(own, theirs);
    await own.owner.query('ALTER TABLE company RENAME TO company_away');
    const looks = [
      await visitor.get(theirs.page),
      await visitor.get('/q/nothing'),
      await visitor.post(`${theirs.page}/decline`, noForm(theirs)),
    ];
    await own.owner.query('ALTER TABLE company_away RENAME TO company');
    await own.close();
    for (const look of looks) {
      expect(look.status).toBeGreaterThanOrEqual(500);
      expect(look.headers['content-type']).toBe('text/html; charset=utf-8');
      expect(look.text).toContain('<h1>Our mistake</h1>');
      expect(look.text).toMatch(/<h2[^>]*>Un error nuestro<\/h2>/);
      expect(look.text).not.toMatch(/Nothing was recorded|class="letterhead"/);
    }
  });
});

/** What of a page is read aloud, roughly: its text without its marks. */
function textOf(page: string): string {
  return page
    .replace(/<[^>]+>/g, '')
    .replace(/&#39;/g, "'")
    .replace(/\s+/g, ' ');
}

function dollars(cents: number): string {
  return `${cents < 0 ? '−' : ''}$${(Math.abs(cents) / 100).toFixed(2)}`;
}
