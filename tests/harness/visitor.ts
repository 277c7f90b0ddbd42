import supertest, { type Response } from 'supertest';
import { company } from '../../seed/company.ts';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { words } from '../../src/customer-pages/words.ts';
import { formatCents } from '../../src/documents/index.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { findPluggedDrain } from './findings.ts';
import {
  addSite,
  arriveAtJob,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
  type Site,
} from './job.ts';
import { limitApprover } from './limit-approver.ts';
import { expectStatus, type TestService } from './test-service.ts';

/** An issued quote with the address of its page. */
export interface Offer {
  job: Job;
  quote: QuoteAt;
  linkId: string;
  /** The path that lets its holder in: /q/ and the token. */
  path: string;
  token: string;
  /** Where its page is, once it was let in. */
  page: string;
}

export interface OfferOptions {
  site?: Site;
  holder?: 'approver' | 'payer';
  /** What the approver of the site may agree to; then somebody else pays. */
  approverLimitCents?: number;
}

/** The invented county's right to cancel, once for each service. */
export async function addConsumerRules(service: TestService): Promise<void> {
  for (const rule of consumerRules) {
    expectStatus(await service.as('owner').post('/v1/consumer-rules', rule), 201);
  }
}

/** A capacitor and a plugged drain were found; all of it or the capacitor alone is offered. */
export async function offerAtLink(
  service: TestService,
  { site, holder = 'approver', approverLimitCents }: OfferOptions = {},
): Promise<Offer> {
  const place = site ?? (await addSite(service));
  if (approverLimitCents !== undefined)
    await limitApprover(service, place.siteId, approverLimitCents);
  const job = await arriveAtJob(service, place);
  const capacitor = await findCapacitor(service, job);
  const drain = await findPluggedDrain(service, job);
  const drafted = await service.as('technician').post('/v1/quotes', {
    visitId: job.visitId,
    options: [
      { title: 'Capacitor and drain', findingIds: [capacitor, drain] },
      { title: 'Only what stopped it', findingIds: [capacitor] },
    ],
  });
  expectStatus(drafted, 201);
  const quote = await issueQuote(service, {
    body: drafted.body,
    tag: drafted.headers['etag'] ?? '',
  });
  return { job, quote, ...(await makeLink(service, quote, holder)) };
}

/** A link to a quote: an approver's as the technician sends it, a payer's from the office. */
export async function makeLink(
  service: TestService,
  quote: QuoteAt,
  holder: 'approver' | 'payer' = 'approver',
): Promise<Pick<Offer, 'linkId' | 'path' | 'token' | 'page'>> {
  const maker = service.as(holder === 'payer' ? 'dispatcher' : 'technician');
  const made = await maker.post(`/v1/quotes/${quote.body.id}/links`, { holder });
  const path = new URL(expectStatus(made, 201).body.url).pathname;
  const token = path.slice('/q/'.length);
  return { linkId: made.body.id, path, token, page: `/your-quote/${quote.body.number}` };
}

/** A customer's browser as far as a test without one goes: it keeps cookies and says who it is. */
export interface Visitor {
  cookies: Map<string, string>;
  get(path: string, headers?: Record<string, string>): Promise<Response>;
  head(path: string): Promise<Response>;
  /** Sends a form of the page. */
  post(
    path: string,
    fields: Record<string, string>,
    headers?: Record<string, string>,
  ): Promise<Response>;
}

/** @param offer whose link is opened at once, where given */
export async function visit(service: TestService, offer?: Pick<Offer, 'path'>): Promise<Visitor> {
  const agent = supertest(service.app.server);
  const cookies = new Map<string, string>();
  const send = async (request: supertest.Test, headers: Record<string, string>) => {
    const cookie = [...cookies].map((pair) => pair.join('=')).join('; ');
    if (cookie !== '') request.set('cookie', cookie);
    const answer = await request.redirects(0).set(headers);
    keep(cookies, answer);
    return answer;
  };
  const visitor: Visitor = {
    cookies,
    get: (path, headers = {}) => send(agent.get(path), headers),
    head: (path) => send(agent.head(path), {}),
    post: (path, fields, headers = { 'sec-fetch-site': 'same-origin' }) =>
      send(agent.post(path).type('form').send(new URLSearchParams(fields).toString()), headers),
  };
  if (offer !== undefined) expectStatus(await visitor.get(offer.path), 303);
  return visitor;
}

function keep(cookies: Map<string, string>, { headers }: Response): void {
  const set: unknown = headers['set-cookie'];
  for (const cookie of Array.isArray(set) ? set : []) {
    const [name = '', value = ''] = String(cookie).split(';')[0]?.split('=') ?? [];
    if (String(cookie).includes('Max-Age=0')) cookies.delete(name);
    else cookies.set(name, value);
  }
}

/** The form that says yes to an option, as the English page fills it in. */
export function yesForm({ quote }: Offer, at = 0): Record<string, string> {
  const option = quote.body.options[at];
  return {
    option: option.id,
    total: String(option.totalCents),
    hash: quote.body.contentHash,
    language: 'en',
    text: sha256(words.en.consent(agreedOn(quote, at))),
    agree: 'yes',
    name: 'Winifred Ashgrove',
  };
}

/** The form that says no, as the English page fills it in. */
export function noForm({ quote }: Offer): Record<string, string> {
  return { hash: quote.body.contentHash, language: 'en', name: 'Winifred Ashgrove' };
}

/** The form that takes a yes back, as the English page fills it in. */
export function cancelForm({ quote }: Offer, at = 0): Record<string, string> {
  return {
    hash: quote.body.contentHash,
    language: 'en',
    text: sha256(words.en.cancel.notice(agreedOn(quote, at))),
    notice: 'yes',
    name: 'Winifred Ashgrove',
  };
}

/** What a form of a page sends of its own: its hidden fields. */
export function hiddenFields(page: string, action: string, at = 0): Record<string, string> {
  const form = page.split(`action="${action}"`)[at + 1]?.split('</form>')[0] ?? '';
  const fields = form.matchAll(/<input type="hidden" name="([^"]+)" value="([^"]*)">/g);
  return Object.fromEntries([...fields].map(([, name = '', value = '']) => [name, value]));
}

function agreedOn({ body }: QuoteAt, at: number) {
  const { title, totalCents } = body.options[at];
  const letter = body.options.length > 1 ? 'ABC'[at] : undefined;
  return {
    option: words.en.optionName(letter, title),
    total: formatCents(totalCents),
    quote: words.en.quoteName(String(body.number), body.revision),
    company: company.name,
  };
}
