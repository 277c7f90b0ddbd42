import type { Readable } from 'node:stream';
import type { FastifyInstance, FastifyReply, FastifyRequest, RouteOptions } from 'fastify';
import { z } from 'zod';
import type { Access, Actor } from '../access/actor.ts';
import { authenticate } from '../access/authenticate.ts';
import { SESSION_COOKIE } from '../access/session-cookie.ts';
import { hashOfToken } from '../access/token.ts';
import { withhold } from '../access/withhold.ts';
import type { Clock } from '../clock.ts';
import { type Database, sqlOn, type Tx } from '../database/database.ts';
import { inTx } from '../database/in-tx.ts';
import type { Ids } from '../ids.ts';
import type { ReadReport, ReportSource } from '../reports/open-reports.ts';
import { sha256 } from '../sha256.ts';
import { describeRoute, EVENT_STREAM, waitsForCompany } from './describe-route.ts';
import { isUnchanged, requireMatch } from './etag.ts';
import { forgetBrowser } from './forget-browser.ts';
import {
  type Attempt,
  claimKey,
  fingerprintOf,
  keepReply,
  readIdempotencyKey,
  type StoredReply,
} from './idempotency.ts';
import { noteAsker } from './note-asker.ts';
import { ProblemError, problemBody } from './problem.ts';
import { readCookie } from './read-cookie.ts';
import { refuseCrossSite } from './refuse-cross-site.ts';
import type {
  ActContext,
  ActRoute,
  BytesRoute,
  ComputeRoute,
  EntranceRoute,
  EntranceTools,
  FileTools,
  ReadContext,
  ReadRoute,
  Reply,
  Route,
  StreamRoute,
  StreamTools,
} from './route.ts';
import { isSentFile, takeFiles } from './sent-file.ts';

/** What every route is given from outside. */
export interface MountDeps {
  db: Database;
  clock: Clock;
  ids: Ids;
  /** @throws ProblemError 409 before there is a company to work for */
  requireCompany(): Promise<void>;
  /** Start of the URLs that problems point to. */
  typeBase: string;
  entranceTools: EntranceTools;
  fileTools: FileTools;
  streamTools: StreamTools;
  /** Where reports are read; in the same database as all else unless given. */
  readReport?: ReadReport;
}

/**
 * Puts declared routes on the server. Everything a route inherits is here: who may use it, checked
 * input, one transaction with its stored first answer, versions, and the contract of the answer.
 */
export function mountRoutes(app: FastifyInstance, routes: readonly Route[], deps: MountDeps): void {
  for (const route of routes) {
    const file = route.kind === 'act' ? route.consumes : undefined;
    const bodyLimit = route.kind === 'act' ? route.bodyBytesMax : undefined;
    const declared: RouteOptions = {
      method: route.method,
      url: route.path,
      schema: describeRoute(route),
      ...(bodyLimit !== undefined && { bodyLimit }),
      ...(route.kind === 'stream' && { handlerTimeout: LONGEST_TIMER_MS }),
      config: { access: route.access, ...(file && { mediaTypes: file.mediaTypes }) },
      onRequest: async (request) => {
        if (route.kind === 'entrance') refuseOtherSites(request);
        request.actor = await admit(request, route.access, deps);
        if (waitsForCompany(route)) await deps.requireCompany();
      },
      handler: (request, reply) => {
        switch (route.kind) {
          case 'read':
            return answerRead(route, deps, request, reply);
          case 'act':
            return answerAct(route, deps, request, reply);
          case 'compute':
            return answerCompute(route, deps, request, reply);
          case 'bytes':
            return answerBytes(route, deps, request, reply);
          case 'entrance':
            return answerEntrance(route, deps, request, reply);
          case 'stream':
            return answerStream(route, deps, request, reply);
        }
      },
    };
    if (file === undefined) app.route(declared);
    // A scope of its own: what bodies it takes is true of this route only.
    else
      app.register(async (scope) => {
        takeFiles(scope, file);
        scope.route({ ...declared, bodyLimit: file.bytesMax });
      });
  }
}

declare module 'fastify' {
  interface FastifyRequest {
    actor: Actor | undefined;
  }
  interface FastifyContextConfig {
    access?: Access;
    /** Of the body, where it is not JSON. */
    mediaTypes?: readonly string[];
  }
}

async function admit(
  request: FastifyRequest,
  access: Access,
  deps: MountDeps,
): Promise<Actor | undefined> {
  if (access === 'public') return undefined;
  const shown = tokenOf(request);
  const actor = shown && (await authenticate(sqlOn(deps.db.pool), shown, deps.clock.now()));
  if (!actor) throw new ProblemError('unauthenticated', 'This needs a valid bearer token.');
  noteAsker(request, actor);
  if (!access.includes(actor.role)) {
    throw new ProblemError('forbidden', `A ${actor.role} may not do this.`, {
      allowedRoles: access,
    });
  }
  return actor;
}

/**
 * What somebody shows to be let in: a bearer token, or else the cookie of a page. A browser sends
 * the cookie along whoever asks it to, so with it nothing is done that another site asks for.
 */
function tokenOf(request: FastifyRequest): Parameters<typeof authenticate>[1] | undefined {
  const { authorization } = request.headers;
  if (authorization !== undefined) {
    const token = /^Bearer ([\w.~+/-]+=*)$/i.exec(authorization)?.[1];
    return token === undefined ? undefined : { token, carrier: 'bearer' };
  }
  const token = readCookie(request.headers.cookie, SESSION_COOKIE);
  if (token === undefined || token === '') return undefined;
  if (request.method !== 'GET' && request.method !== 'HEAD') refuseCrossSite(request);
  return { token, carrier: 'cookie' };
}

/** Lets nobody be signed in by a page of another site; a program, which is no browser, says neither. */
function refuseOtherSites(request: FastifyRequest): void {
  const { origin, 'sec-fetch-site': site } = request.headers;
  if (origin !== undefined || site !== undefined) refuseCrossSite(request);
}

async function answerEntrance(
  route: EntranceRoute,
  deps: MountDeps,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  // Where everybody may ask, the cookie of a session is only hashed and looked for: nobody is let
  // in by it.
  const shown = request.actor
    ? tokenOf(request)?.token
    : readCookie(request.headers.cookie, SESSION_COOKIE);
  const shownHash = shown ? hashOfToken(shown) : undefined;
  const context = {
    ...deps.entranceTools,
    ...{ shownHash, actor: request.actor, now: deps.clock.now(), requestId: request.id },
    ...{ log: request.log as ReadContext['log'], sql: sqlOn(deps.db.pool), db: deps.db },
    ...{ newId: () => deps.ids.next(), origin: originOf(request) },
  };
  const result = await route.handle(context, {
    params: request.params as never,
    body: (request.body ?? {}) as never,
  });
  if (result.cookie !== undefined) reply.header('set-cookie', result.cookie);
  if (result.isLeft) forgetBrowser(request, reply);
  return reply.type(JSON_TYPE).send(encode(route.response, result.body, request));
}

async function answerRead(
  route: ReadRoute,
  deps: MountDeps,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const input = { params: request.params as never, query: request.query as never };
  const result = await lookAt(route, deps, (source) =>
    route.handle(readContext(deps, request, source), input),
  );
  if (result.etag !== undefined) {
    reply.header('etag', result.etag);
    if (isUnchanged(request.headers['if-none-match'], result.etag)) return reply.code(304).send();
  }
  return reply.type(JSON_TYPE).send(encode(route.response, result.body, request));
}

async function answerCompute(
  route: ComputeRoute,
  deps: MountDeps,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const input = { body: request.body as never };
  const result = await route.handle(readContext(deps, request), input);
  return reply.type(JSON_TYPE).send(encode(route.response, result.body, request));
}

async function answerBytes(
  route: BytesRoute,
  deps: MountDeps,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const { ids, fileTools } = deps;
  const input = { params: request.params as never, query: request.query as never };
  const file = await lookAt(route, deps, (db) =>
    route.handle(
      { ...readContext(deps, request, db), ...fileTools, db, newId: () => ids.next() },
      input,
    ),
  );
  reply.header('etag', file.etag);
  if (isUnchanged(request.headers['if-none-match'], file.etag)) return reply.code(304).send();
  return reply
    .type(file.mediaType)
    .header('content-disposition', `${route.disposition}; filename="${file.fileName}"`)
    .send(Buffer.from(file.bytes));
}

async function answerStream(
  route: StreamRoute,
  deps: MountDeps,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  // Nothing of the answer may wait anywhere on its way. The connection is of no use afterwards.
  reply
    .type(`${EVENT_STREAM}; charset=utf-8`)
    .headers({ 'x-accel-buffering': 'no', connection: 'close' });
  if (request.method === 'HEAD') return reply.send('');
  const { 'last-event-id': lastEventId } = request.headers;
  const context = {
    ...readContext(deps, request),
    ...deps.streamTools,
    lastEventId: Array.isArray(lastEventId) ? lastEventId.at(-1) : lastEventId,
  };
  const events = await route.handle(context, { query: request.query as never });
  endWithAdmission(events, request, route.access, deps);
  return reply.send(events);
}

/**
 * Who is let in once is not let in for good: a stream lasts for days, and a token that is revoked
 * must end it too.
 */
function endWithAdmission(
  events: Readable,
  request: FastifyRequest,
  access: Access,
  deps: MountDeps,
): void {
  const check = setInterval(() => {
    admit(request, access, deps).catch((error: unknown) => {
      // While the database is away nobody can be asked, and there is nothing to tell either.
      if (error instanceof ProblemError) events.destroy();
    });
  }, ADMITTED_FOR_MS);
  events.once('close', () => clearInterval(check));
}

const ADMITTED_FOR_MS = 60_000;

/** The longest that a timer can run; who is cut off after 24 days comes back. */
const LONGEST_TIMER_MS = 2_147_483_647;

async function answerAct(
  route: ActRoute,
  deps: MountDeps,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  if (route.ifMatch && request.headers['if-match'] === undefined) {
    throw new ProblemError('precondition-required', 'Send the ETag you last read as If-Match.');
  }
  const attempt = route.method === 'POST' ? attemptOf(route, request) : undefined;
  const now = deps.clock.now();
  try {
    const stored = await inTx(deps.db, (tx) => perform(tx, route, attempt, now, deps, request));
    return send(reply, stored);
  } catch (error) {
    const refusal = await withBesides(error, route, deps, request);
    const earlier = attempt && (await keepRefusal(refusal, attempt, now, deps, request));
    if (earlier !== undefined) return send(reply, { ...earlier, replayed: true });
    throw refusal;
  }
}

/** A refusal with what its route tells besides; the refusal alone where that cannot be read. */
async function withBesides(
  error: unknown,
  route: ActRoute,
  deps: MountDeps,
  request: FastifyRequest,
): Promise<unknown> {
  if (!(error instanceof ProblemError) || route.besides === undefined) return error;
  const input = { params: request.params as never, body: (request.body ?? {}) as never };
  try {
    Object.assign(error.extensions, await route.besides(readContext(deps, request), error, input));
  } catch (failure) {
    request.log.warn({ err: failure }, 'what a refusal tells besides could not be read');
  }
  return error;
}

interface Performed extends StoredReply {
  replayed: boolean;
}

async function perform(
  tx: Tx,
  route: ActRoute,
  attempt: Attempt | undefined,
  now: Date,
  deps: MountDeps,
  request: FastifyRequest,
): Promise<Performed> {
  const earlier = attempt && (await claimKey(tx, attempt, now));
  if (earlier !== undefined) return { ...earlier, replayed: true };
  const result = await route.handle(actContext(tx, now, deps, request), {
    params: request.params as never,
    query: request.query as never,
    body: (request.body ?? {}) as never,
  });
  const stored = storable(route, result, request);
  if (attempt !== undefined) {
    await keepReply(tx, attempt, repeatable(route, result, stored, request), now);
  }
  return { ...stored, replayed: false };
}

/**
 * A refusal is an answer too: repeated, the same key gets it again. The act itself was rolled
 * back, so its answer is kept in a transaction of its own. A refusal by the key itself is not.
 * @returns the answer of a repetition that came through in between: then that is the first answer
 */
async function keepRefusal(
  error: unknown,
  attempt: Attempt,
  now: Date,
  deps: MountDeps,
  request: FastifyRequest,
): Promise<StoredReply | undefined> {
  if (!(error instanceof ProblemError) || error.status >= 500) return undefined;
  if (error.slug === 'request-in-progress' || error.slug === 'idempotency-key-reused') {
    return undefined;
  }
  const body = JSON.stringify(
    problemBody(error, { id: request.id, instance: request.url, typeBase: deps.typeBase }),
  );
  const headers = { 'content-type': PROBLEM_TYPE };
  return inTx(deps.db, async (tx) => {
    const earlier = await claimKey(tx, attempt, now);
    if (earlier !== undefined) return earlier;
    await keepReply(tx, attempt, { status: error.status, headers, body }, now);
    return undefined;
  }).catch((failure: unknown) => {
    // The refusal itself still reaches the client; only its repetition would be decided anew.
    request.log.warn({ err: failure }, 'the refusal could not be kept for repetition');
    return undefined;
  });
}

function attemptOf(route: ActRoute, request: FastifyRequest): Attempt {
  return {
    actorId: actorOf(request).id,
    method: route.method,
    route: route.path,
    key: readIdempotencyKey(request.headers['idempotency-key']),
    fingerprint: fingerprintOf({
      params: request.params,
      query: request.query,
      body: fingerprintedBody(request.body),
      ifMatch: request.headers['if-match'],
    }),
  };
}

/** A file counts by its hash: ten megabytes are not written out as text to be compared. */
function fingerprintedBody(body: unknown): unknown {
  return isSentFile(body) ? { mediaType: body.mediaType, sha256: sha256(body.bytes) } : body;
}

function storable(route: ActRoute, result: Reply<unknown>, asker: Asker): StoredReply {
  return {
    status: route.status,
    headers: {
      'content-type': JSON_TYPE,
      ...(result.etag !== undefined && { etag: result.etag }),
      ...(result.location !== undefined && { location: result.location }),
    },
    body: encode(route.response, result.body, asker),
  };
}

/** What is kept: the answer itself, or what takes its place where it tells a secret. */
function repeatable(
  route: ActRoute,
  result: Reply<unknown>,
  stored: StoredReply,
  asker: Asker,
): StoredReply {
  if (route.repeated === undefined) return stored;
  return storable(route, { ...result, body: route.repeated(result.body as never) }, asker);
}

function send(reply: FastifyReply, stored: Performed) {
  if (stored.replayed) reply.header('idempotency-replayed', 'true');
  return reply.code(stored.status).headers(stored.headers).send(stored.body);
}

type Asker = Pick<FastifyRequest, 'actor'>;

/**
 * The answer as text, checked against the contract: a field it does not list never leaves, and one
 * that it marks as confidential goes only to who is told it.
 */
function encode(schema: z.ZodType, body: unknown, { actor }: Asker): string {
  return JSON.stringify(withhold(schema, z.encode(schema, body), actor?.role));
}

/** A report is looked at where reports are read, and once more elsewhere where that fails. */
function lookAt<T>(
  { isReport }: ReadRoute | BytesRoute,
  { db, readReport }: MountDeps,
  look: (source: ReportSource) => Promise<T>,
): Promise<T> {
  return isReport && readReport ? readReport(look) : look(db);
}

function readContext(
  deps: MountDeps,
  request: FastifyRequest,
  source: ReportSource = deps.db,
): ReadContext {
  return {
    prisma: source.prisma,
    sql: sqlOn(source.pool),
    actor: actorOf(request),
    now: deps.clock.now(),
    requestId: request.id,
    log: request.log as ReadContext['log'],
  };
}

function actContext(tx: Tx, now: Date, deps: MountDeps, request: FastifyRequest): ActContext {
  return {
    tx,
    actor: actorOf(request),
    now,
    newId: () => deps.ids.next(),
    requestId: request.id,
    log: request.log as ActContext['log'],
    origin: originOf(request),
    mustMatch: (etag) => requireMatch(request.headers['if-match'], etag),
    addressOf: (path) => `${deps.typeBase || `${request.protocol}://${request.host}`}${path}`,
  };
}

function originOf(request: FastifyRequest): ActContext['origin'] {
  const userAgent = request.headers['user-agent'];
  return { address: request.ip, ...(userAgent !== undefined && { userAgent }) };
}

function actorOf(request: FastifyRequest): Actor {
  if (request.actor === undefined) throw new Error('this route is public and has no actor');
  return request.actor;
}

const JSON_TYPE = 'application/json; charset=utf-8';
export const PROBLEM_TYPE = 'application/problem+json; charset=utf-8';
