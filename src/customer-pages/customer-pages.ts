import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import {
  askedLanguage,
  inSameLanguage,
  keepLanguage,
  keepsCookies,
  languageOf,
  PAGE_HEADERS,
} from '../page-frame/index.ts';
import type { PaperContext, StoredFile } from '../papers/index.ts';
import { takeForms } from '../platform/http/form-body.ts';
import { noteAsker } from '../platform/http/note-asker.ts';
import { refuseCrossSite } from '../platform/http/refuse-cross-site.ts';
import { linkOf } from '../quote-links/index.ts';
import { answerDocument, issuedDocument } from '../quotes/index.ts';
import { actContext } from './act-context.ts';
import { answerError } from './answer-error.ts';
import { linkAt, numberIn } from './link-at.ts';
import { keepLetIn, letOut, pagePath } from './link-cookie.ts';
import type { PageDeps } from './page-deps.ts';
import { closedPage, missingPage, needsHttpsPage } from './plain-pages.ts';
import { paperIn, quoteAt } from './quote-at.ts';
import { closedPath, sendPlain } from './send-plain.ts';
import { sendQuote } from './send-quote.ts';
import { takeAnswer } from './take-answer.ts';

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
    for (const address of ['/q/:token', '/q/:token/']) {
      scope.get(address, OPEN, (request, reply) => enter(deps, request, reply));
    }
    scope.get(PAGE, OPEN, (request, reply) => look(deps, request, reply));
    scope.get(`${PAGE}/paper`, OPEN, (request, reply) => paper(deps, request, reply));
    scope.get(`${PAGE}/receipt`, OPEN, (request, reply) => receipt(deps, request, reply));
    scope.get(`${PAGE}/closed`, OPEN, (request, reply) => closed(deps, request, reply));
    for (const kind of ['accept', 'decline', 'cancel'] as const) {
      scope.post(`${PAGE}/${kind}`, OPEN, (request, reply) =>
        takeAnswer(deps, kind, request, reply),
      );
    }
    scope.post(`${PAGE}/leave`, OPEN, leave);
    for (const end of ['accept', 'decline', 'cancel', 'leave', '']) {
      scope.get(`${PAGE}/${end}`, OPEN, (request, reply) => backToPage(deps, request, reply));
    }
    scope.get('/your-quote', OPEN, (request, reply) => sendMissing(deps, request, reply));
  });
}

const PAGE = '/your-quote/:number';
const OPEN = { schema: { hide: true }, config: { access: 'public' } } as const;

/** A name, a reason of a thousand letters, and what the page sends along. */
const FORM_BYTES_MAX = 16 * 1024;

/** Takes the token out of the address, out of the history and of whatever is told of the address. */
async function enter(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  reply.header('referrer-policy', 'no-referrer');
  const { token } = request.params as { token: string };
  const now = deps.clock.now();
  const link = await linkOf(deps.db.prisma, token, now);
  if (link === undefined) return sendMissing(deps, request, reply);
  noteAsker(request, { kind: 'customer', id: link.id });
  if (!keepsCookies(request, deps.typeBase)) return sendNeedsHttps(deps, request, reply);
  const asked = askedLanguage(request);
  keepLanguage(request, reply);
  keepLetIn(reply, token, link, now);
  const path = pagePath(link.quoteNumber);
  return reply.redirect(asked === undefined ? path : `${path}?lang=${asked}`, 303);
}

async function look(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const link = await linkAt(deps, request);
  if (link === undefined) return sendMissing(deps, request, reply);
  keepLanguage(request, reply);
  return sendQuote(deps, link, request, reply);
}

/**
 * A refused form leaves its own address in the browser, and whoever asks for that again, or has
 * written one character too many, wants the page.
 */
async function backToPage(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const number = numberIn(request);
  if (number === undefined) return sendMissing(deps, request, reply);
  return reply.redirect(pagePath(number), 303);
}

async function paper(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const link = await linkAt(deps, request);
  if (link === undefined) return sendMissing(deps, request, reply);
  const now = deps.clock.now();
  const quote = await quoteAt(deps.db.prisma, link, now);
  if (quote.standing.state === 'holder_replaced') return backToPage(deps, request, reply);
  const { quoteId } = link;
  const context = paperContext(deps, request, now);
  const { language } = paperIn(quote, languageOf(request, quote.customerLanguage));
  const wanted = { quoteId, revision: quote.revision };
  return sendFile(reply, await issuedDocument(context, wanted, language));
}

/** The paper of the answer. Whoever asks for it before there is one is shown the quote. */
async function receipt(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const link = await linkAt(deps, request);
  if (link === undefined) return sendMissing(deps, request, reply);
  const now = deps.clock.now();
  const quote = await quoteAt(deps.db.prisma, link, now);
  if (quote.standing.state === 'holder_replaced') return backToPage(deps, request, reply);
  const { language } = paperIn(quote, languageOf(request, quote.customerLanguage));
  const file = await answerDocument(paperContext(deps, request, now), link.quoteId, language);
  if (file === undefined) return reply.redirect(pagePath(link.quoteNumber), 303);
  return sendFile(reply, file);
}

function paperContext(deps: PageDeps, request: FastifyRequest, now: Date): PaperContext {
  const { db, papers } = deps;
  return { ...actContext(deps, request, now), prisma: db.prisma, db, papers };
}

function sendFile(reply: FastifyReply, { bytes, fileName }: StoredFile) {
  return reply
    .type('application/pdf')
    .header('content-disposition', `inline; filename="${fileName}"`)
    .send(Buffer.from(bytes));
}

async function leave(request: FastifyRequest, reply: FastifyReply) {
  refuseCrossSite(request);
  const number = numberIn(request);
  if (number === undefined) return reply.redirect('/your-quote', 303);
  letOut(reply, number);
  return reply.redirect(inSameLanguage(closedPath(number), request), 303);
}

async function closed(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  if (numberIn(request) === undefined) return sendMissing(deps, request, reply);
  return sendPlain(deps, request, reply, closedPage);
}

function sendMissing(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendPlain(deps, request, reply.code(404), missingPage);
}

/** The cookie that lets in would be lost here, and a good link would look dead. */
function sendNeedsHttps(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendPlain(deps, request, reply.code(403), needsHttpsPage);
}
