import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { Clock } from '../platform/clock.ts';
import type { Database } from '../platform/database/database.ts';
import type { Html } from '../platform/html/html.ts';
import { asProblem } from '../platform/http/answer-errors.ts';
import { checkForm, type FormFields, takeForms } from '../platform/http/form-body.ts';
import { readCookie } from '../platform/http/read-cookie.ts';
import { refuseCrossSite } from '../platform/http/refuse-cross-site.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { Ids } from '../platform/ids.ts';
import { type LivingLink, linkOf } from '../quote-links/index.ts';
import { issuedDocument } from '../quotes/index.ts';
import { chooseLanguage } from './choose-language.ts';
import { acceptFormSchema, cancelFormSchema, declineFormSchema, type TypedForm } from './forms.ts';
import { type Answer, giveAnswer } from './give-answer.ts';
import { keepsCookies } from './keeps-cookies.ts';
import { keepLetIn, letOut, pagePath, setCookie, tokenFor } from './link-cookie.ts';
import {
  closedPage,
  missingPage,
  needsHttpsPage,
  nothingRecordedPage,
  type PlainPage,
  refusalPage,
} from './plain-pages.ts';
import { paperIn, quoteAt } from './quote-at.ts';
import { quotePage, type Shown } from './quote-page.ts';
import { stylesheetPath, stylesheetText } from './stylesheet.ts';
import { type Language, languageSchema, type Refusal } from './words.ts';

/** What the pages are given from outside. */
export interface PageDeps {
  db: Database;
  clock: Clock;
  ids: Ids;
  /** Start of links to this service; empty where it is told by each request. */
  typeBase: string;
}

/**
 * The pages a customer gets at a link: plain HTML, no script, forms that answer with a new look at
 * the page. Reading them changes nothing, so that whoever opens every link in a mail does no harm.
 */
export function servesCustomerPages(app: FastifyInstance, deps: PageDeps): void {
  app.register(async (scope) => {
    takeForms(scope, { bytesMax: FORM_BYTES_MAX });
    scope.addHook('onRequest', async (_, reply) => {
      reply.headers(PAGE_HEADERS);
    });
    scope.setErrorHandler((error: FastifyError, request, reply) =>
      answerError(deps, error, request, reply),
    );
    scope.get('/q/:token', OPEN, (request, reply) => enter(deps, request, reply));
    scope.get('/your-quote', OPEN, (request, reply) => sendMissing(deps, request, reply));
    scope.get(PAGE, OPEN, (request, reply) => look(deps, request, reply));
    scope.get(`${PAGE}/paper`, OPEN, (request, reply) => paper(deps, request, reply));
    scope.get(`${PAGE}/closed`, OPEN, (request, reply) => closed(deps, request, reply));
    scope.get(stylesheetPath, OPEN, (_, reply) =>
      reply
        .header('cache-control', 'public, max-age=31536000, immutable')
        .type('text/css; charset=utf-8')
        .send(stylesheetText),
    );
    for (const kind of ['accept', 'decline', 'cancel'] as const) {
      scope.post(`${PAGE}/${kind}`, OPEN, (request, reply) => answer(deps, kind, request, reply));
    }
    scope.post(`${PAGE}/leave`, OPEN, leave);
  });
}

const PAGE = '/your-quote/:number';
const OPEN = { schema: { hide: true }, config: { access: 'public' } } as const;

/** A name, a reason of a thousand letters, and what the page sends along. */
const FORM_BYTES_MAX = 16 * 1024;

const PAGE_HEADERS = {
  'content-security-policy':
    "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; " +
    "frame-ancestors 'none'; base-uri 'none'",
  // Other sites learn nothing. With no-referrer an older browser would send its forms with the
  // origin `null`, which is how a form of another site looks; no address below holds a secret.
  'referrer-policy': 'same-origin',
  'x-robots-tag': 'noindex, nofollow',
  vary: 'Cookie, Accept-Language',
};

const LANGUAGE_COOKIE = '__Host-lang';
const LANGUAGE_SECONDS = 30 * 86_400;

/** Takes the token out of the address, out of the history and of whatever is told of the address. */
async function enter(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  reply.header('referrer-policy', 'no-referrer');
  const { token } = request.params as { token: string };
  const now = deps.clock.now();
  const link = await linkOf(deps.db.prisma, token, now);
  if (link === undefined) return sendMissing(deps, request, reply);
  if (!keepsCookies(request, deps.typeBase)) return sendNeedsHttps(deps, request, reply);
  const asked = languageSchema.safeParse((request.query as { lang?: unknown }).lang);
  keepLanguage(request, reply);
  keepLetIn(reply, token, link, now);
  const path = pagePath(link.quoteNumber);
  return reply.redirect(asked.success ? `${path}?lang=${asked.data}` : path, 303);
}

async function look(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const link = await linkAt(deps, request);
  if (link === undefined) return sendMissing(deps, request, reply);
  keepLanguage(request, reply);
  return sendQuote(deps, link, request, reply, {});
}

async function paper(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const link = await linkAt(deps, request);
  if (link === undefined) return sendMissing(deps, request, reply);
  const now = deps.clock.now();
  const quote = await quoteAt(deps.db.prisma, link, now);
  const file = await issuedDocument(
    { ...contextOf(deps, request, now), prisma: deps.db.prisma, db: deps.db },
    { quoteId: link.quoteId, number: quote.number, revision: quote.revision },
    paperIn(quote, languageOf(request, quote.customerLanguage)).language,
  );
  return reply
    .type('application/pdf')
    .header('content-disposition', `inline; filename="${file.fileName}"`)
    .send(Buffer.from(file.bytes));
}

const FORMS = {
  accept: acceptFormSchema,
  decline: declineFormSchema,
  cancel: cancelFormSchema,
} as const;

async function answer(
  deps: PageDeps,
  kind: Answer['kind'],
  request: FastifyRequest,
  reply: FastifyReply,
) {
  refuseCrossSite(request);
  const link = await linkAt(deps, request);
  if (link === undefined) return sendNothingRecorded(deps, request, reply);
  const typed = (request.body ?? {}) as FormFields;
  const form = checkForm(FORMS[kind], typed);
  if (form.outcome === 'mistaken') {
    return sendMistakes(deps, link, request, reply, { form: kind, typed, mistakes: form.fields });
  }
  const now = deps.clock.now();
  const quote = await quoteAt(deps.db.prisma, link, now);
  const refusal = await giveAnswer(
    {
      ...contextOf(deps, request, now),
      db: deps.db,
      link,
      language: languageOf(request, quote.customerLanguage),
    },
    { kind, form: form.values } as Answer,
  );
  if (refusal === 'link_gone') return sendNothingRecorded(deps, request, reply);
  if (refusal === undefined) return reply.redirect(pagePath(link.quoteNumber), 303);
  reply.code(STATUS[refusal] ?? 409);
  return sendQuote(deps, link, request, reply, { refusal });
}

const STATUS: Partial<Record<Refusal, number>> = { changed: 412, unreadable: 422 };

/**
 * A form with what was typed and what is missing. What a person cannot have typed, the page's own
 * hidden fields, is no form of this page.
 */
function sendMistakes(
  deps: PageDeps,
  link: LivingLink,
  request: FastifyRequest,
  reply: FastifyReply,
  failed: TypedForm,
) {
  reply.code(422);
  const isOurs = [...failed.mistakes].every((field) => TYPED.has(field));
  return sendQuote(deps, link, request, reply, isOurs ? { failed } : { refusal: 'unreadable' });
}

const TYPED = new Set(['name', 'agree', 'reason', 'notice']);

async function leave(request: FastifyRequest, reply: FastifyReply) {
  refuseCrossSite(request);
  const number = numberIn(request);
  if (number === undefined) return reply.redirect('/your-quote', 303);
  letOut(reply, number);
  return reply.redirect(`${pagePath(number)}/closed`, 303);
}

async function closed(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendPlain(deps, request, reply, closedPage);
}

/** The living link that this device was let in with to this very quote. */
async function linkAt(deps: PageDeps, request: FastifyRequest): Promise<LivingLink | undefined> {
  const number = numberIn(request);
  const token = number === undefined ? undefined : tokenFor(request, number);
  const link = await linkOf(deps.db.prisma, token ?? '', deps.clock.now());
  return link?.quoteNumber === number ? link : undefined;
}

function numberIn(request: FastifyRequest): number | undefined {
  const { number = '' } = request.params as { number?: string };
  return /^[1-9]\d{0,8}$/.test(number) ? Number(number) : undefined;
}

async function sendQuote(
  deps: PageDeps,
  link: LivingLink,
  request: FastifyRequest,
  reply: FastifyReply,
  shown: Pick<Shown, 'refusal' | 'failed'>,
) {
  const now = deps.clock.now();
  const quote = await quoteAt(deps.db.prisma, link, now);
  const language = languageOf(request, quote.customerLanguage);
  keepLetIn(reply, tokenFor(request, link.quoteNumber) ?? '', link, now);
  return send(
    reply,
    language,
    quotePage(quote, { ...shown, language, now, chosen: chosenIn(request) }),
  );
}

function sendMissing(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendPlain(deps, request, reply.code(404), missingPage);
}

function sendNothingRecorded(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendPlain(deps, request, reply.code(404), nothingRecordedPage);
}

/** The cookie that lets in would be lost here, and a good link would look dead. */
function sendNeedsHttps(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendPlain(deps, request, reply.code(403), needsHttpsPage);
}

async function sendPlain(
  deps: PageDeps,
  request: FastifyRequest,
  reply: FastifyReply,
  page: (shown: PlainPage) => Html,
) {
  const language = languageOf(request, undefined);
  const company = await deps.db.prisma.company.findUnique({ where: { id: 1 } });
  // Nobody has set this service up yet, so nobody's page can be shown.
  if (company === null) return reply.code(404).type('text/plain').send('There is no quote here.');
  return send(reply, language, page({ company, language, path: plainPath(request) }));
}

/** Where the same is shown in another language; an address with a token is named nowhere. */
function plainPath(request: FastifyRequest): string {
  const number = numberIn(request);
  return number === undefined ? '/your-quote' : pagePath(number);
}

/** What went wrong as a page: our own mistakes in the log, and nothing of them on the page. */
async function answerError(
  deps: PageDeps,
  error: FastifyError,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const problem = asProblem(error);
  if (problem.status >= 500) request.log.error({ err: error }, 'request failed');
  else request.log.info({ problem: problem.slug }, 'request refused');
  const refusal: Refusal =
    problem.status >= 500
      ? 'our_mistake'
      : problem.slug === 'forbidden'
        ? 'cross_site'
        : 'unreadable';
  return sendPlain(deps, request, reply.code(problem.status), (of) => refusalPage(of, refusal));
}

function send(reply: FastifyReply, language: Language, page: Html) {
  return reply
    .header('content-language', language)
    .type('text/html; charset=utf-8')
    .send(page.toString());
}

/** The answer whose form the page's own link asked for. */
function chosenIn(request: FastifyRequest): string | undefined {
  const { answer } = request.query as { answer?: unknown };
  return typeof answer === 'string' ? answer : undefined;
}

function languageOf(request: FastifyRequest, customer: string | undefined): Language {
  return chooseLanguage({
    query: (request.query as { lang?: unknown }).lang,
    cookie: readCookie(request.headers.cookie, LANGUAGE_COOKIE),
    customer,
    acceptLanguage: request.headers['accept-language'],
  });
}

/** A language that was asked for is kept for the next look; nothing else ever sets it. */
function keepLanguage(request: FastifyRequest, reply: FastifyReply): void {
  const asked = languageSchema.safeParse((request.query as { lang?: unknown }).lang);
  if (!asked.success) return;
  setCookie(reply, `${LANGUAGE_COOKIE}=${asked.data}; Max-Age=${LANGUAGE_SECONDS}`);
}

function contextOf(deps: PageDeps, request: FastifyRequest, now: Date) {
  const userAgent = request.headers['user-agent'];
  return {
    now,
    newId: () => deps.ids.next(),
    requestId: request.id,
    log: request.log as ActContext['log'],
    origin: { address: request.ip, ...(userAgent !== undefined && { userAgent }) },
    addressOf: (path: `/${string}`) =>
      `${deps.typeBase || `${request.protocol}://${request.host}`}${path}`,
  };
}
