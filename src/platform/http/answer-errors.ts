import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { violationOf } from '../database/violation.ts';
import { withoutToken } from '../without-token.ts';
import { knowMethods } from './know-methods.ts';
import { PROBLEM_TYPE } from './mount.ts';
import { ProblemError, problemBody } from './problem.ts';
import type { ProblemSlug } from './problem-catalog.ts';
import { sizeText } from './size-text.ts';
import { STRICT_HEADERS } from './strict-headers.ts';

/**
 * Makes every failure a problem document: refusals of ours, of the framework, unknown addresses,
 * wrong methods, requests that come while closing, and our own mistakes, of which only the request
 * id is told. Call it before any route is added.
 * @param answersOtherwise whether it has answered an unknown address itself, not with a problem
 */
export function answerErrors(
  app: FastifyInstance,
  typeBase: string,
  answersOtherwise: AnswersOtherwise = () => false,
): void {
  const methodsAt = knowMethods(app);
  app.setErrorHandler((error: FastifyError, request, reply) => {
    const problem = asProblem(error, bodyTakenBy(request));
    if (problem.status >= 500) request.log.error({ err: error }, 'request failed');
    else request.log.info({ problem: problem.slug }, 'request refused');
    return sendProblem(reply, request, problem, typeBase);
  });
  app.setNotFoundHandler((request, reply) => {
    if (answersOtherwise(request, reply)) return;
    const allowed = methodsAt(request.url);
    const isWrongMethod = allowed.length > 0 && !allowed.includes(request.method);
    if (isWrongMethod) reply.header('allow', allowed.join(', '));
    const problem = isWrongMethod
      ? new ProblemError('method-not-allowed', `This address does not answer ${request.method}.`)
      : new ProblemError('not-found', 'There is nothing at this address.');
    return sendProblem(reply, request, problem, typeBase);
  });
  refuseWhileClosing(app);
}

/** Answers some requests that lead nowhere in a way of its own; false for any other. */
export type AnswersOtherwise = (request: FastifyRequest, reply: FastifyReply) => boolean;

/**
 * Answers what the framework refuses before it has found a route, such as a malformed address.
 * @param answersOtherwise whether it has answered itself, with something else than a problem
 */
export function answerUnroutable(
  typeBase: string,
  answersOtherwise: AnswersOtherwise = () => false,
) {
  return (error: FastifyError, request: FastifyRequest, reply: FastifyReply) => {
    reply.headers({ ...STRICT_HEADERS, 'x-request-id': request.id, 'cache-control': 'no-store' });
    if (answersOtherwise(request, reply)) return;
    sendProblem(reply, request, asProblem(error), typeBase);
  };
}

// Connections that are kept alive may still bring requests after the port is closed.
function refuseWhileClosing(app: FastifyInstance): void {
  let isClosing = false;
  app.addHook('preClose', async () => {
    isClosing = true;
    letGoOfIdle(app);
  });
  app.addHook('onRequest', async () => {
    if (isClosing) throw new ProblemError('unavailable', 'The service is closing.');
  });
}

/**
 * The framework lets go of connections that are idle when the closing begins. One that had its last
 * answer later would hold up the end for as long as it may be idle, which is longer than an operator
 * waits.
 */
function letGoOfIdle({ server }: FastifyInstance): void {
  if (!server.listening) return;
  const timer = setInterval(() => server.closeIdleConnections(), IDLE_LOOK_MS);
  server.once('close', () => clearInterval(timer));
}

const IDLE_LOOK_MS = 50;

/** What passes by itself: an act of the same key ends within a second, or the database is back. */
const RETRY_AFTER_SECONDS: Partial<Record<ProblemSlug, number>> = {
  'request-in-progress': 1,
  unavailable: 2,
};

function sendProblem(
  reply: FastifyReply,
  request: FastifyRequest,
  problem: ProblemError,
  typeBase: string,
) {
  if (problem.slug === 'unauthenticated') reply.header('www-authenticate', 'Bearer');
  const retryAfter = problem.extensions['retryAfterSeconds'] ?? RETRY_AFTER_SECONDS[problem.slug];
  if (typeof retryAfter === 'number') reply.header('retry-after', retryAfter);
  const instance = withoutToken(request.url);
  const body = problemBody(problem, { id: request.id, instance, typeBase });
  return reply.code(problem.status).type(PROBLEM_TYPE).send(JSON.stringify(body));
}

/** What body a route takes, for refusals of one it does not take. */
interface BodyTaken {
  mediaTypes: readonly string[];
  bytesMax: number;
}

function bodyTakenBy({ routeOptions }: FastifyRequest): BodyTaken {
  const { mediaTypes = JSON_BODY.mediaTypes } = routeOptions.config ?? {};
  return { mediaTypes, bytesMax: routeOptions.bodyLimit ?? JSON_BODY.bytesMax };
}

/** Of every route that declares no other. */
export const JSON_BODY: BodyTaken = { mediaTypes: ['application/json'], bytesMax: 256 * 1024 };

/** The problem an error stands for. */
export function asProblem(
  error: unknown,
  { mediaTypes, bytesMax }: BodyTaken = JSON_BODY,
): ProblemError {
  if (error instanceof ProblemError) return error;
  // Anything can be thrown, also nothing.
  const failure = (error ?? {}) as FastifyError;
  const { code, statusCode, message } = failure;
  if (code === 'FST_ERR_CTP_BODY_TOO_LARGE') {
    return new ProblemError('payload-too-large', `The body is larger than ${sizeText(bytesMax)}.`);
  }
  if (code === 'FST_ERR_CTP_INVALID_MEDIA_TYPE') {
    return new ProblemError('unsupported-media-type', `Send ${mediaTypes.join(' or ')}.`);
  }
  if (isUnavailable(failure)) {
    return new ProblemError('unavailable', 'Please try again in a moment.');
  }
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500) {
    return new ProblemError('malformed-request', UNREADABLE[code] ?? message);
  }
  return new ProblemError('internal-error', 'Something went wrong on our side.');
}

// The framework names its own options in these; a client has none of them.
const UNREADABLE: Record<string, string> = {
  FST_ERR_BAD_URL: 'The address is not validly encoded.',
  FST_ERR_MAX_PARAM_LENGTH: 'A part of the address is too long.',
};

/**
 * True when trying again may help: the database away, no connection free in time, a wait for other
 * work that took too long, or the framework closing or overloaded.
 */
function isUnavailable(error: FastifyError): boolean {
  const { code, statusCode, message, cause } = error;
  if (statusCode === 503 || AWAY.has(code)) return true;
  // The driver gives these neither code nor class.
  if (NO_CONNECTION.test(message)) return true;
  // What fails beside a statement, as a commit does, comes from below the typed client.
  if (AWAY_KINDS.has((cause as { kind?: unknown } | undefined)?.kind)) return true;
  return AWAY_SQLSTATE.test(violationOf(error)?.sqlState ?? '');
}

const AWAY = new Set([
  ...['ECONNREFUSED', 'ECONNRESET', 'ETIMEDOUT', 'ENOTFOUND', 'EPIPE'],
  ...['P1001', 'P1002', 'P1017', 'P2024', 'P2028', 'P2034'],
]);
const NO_CONNECTION =
  /^(timeout exceeded when trying to connect|Connection terminated|Client has encountered a connection error|Client was closed|Query read timeout)/;
const AWAY_KINDS = new Set<unknown>(['DatabaseNotReachable', 'ConnectionClosed', 'SocketTimeout']);
// Connection, resources, shut down; lock not available, statement cancelled, lost conflicts.
const AWAY_SQLSTATE = /^(08|53|57P0|55P03|57014|40001|40P01)/;
