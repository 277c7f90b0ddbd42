import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { PROBLEM_TYPE } from './mount.ts';
import { type FieldError, ProblemError, problemBody } from './problem.ts';

/**
 * Makes every failure a problem document: refusals of ours, of the framework, unknown addresses,
 * and our own mistakes, of which only the request id is told.
 */
export function answerErrors(app: FastifyInstance, typeBase: string): void {
  app.setErrorHandler((error: FastifyError, request, reply) => {
    const problem = asProblem(error);
    if (problem.status >= 500) request.log.error({ err: error }, 'request failed');
    else request.log.info({ problem: problem.slug }, 'request refused');
    return sendProblem(reply, request, problem, typeBase);
  });
  app.setNotFoundHandler((request, reply) =>
    sendProblem(
      reply,
      request,
      new ProblemError('not-found', `There is nothing at this address.`),
      typeBase,
    ),
  );
}

function sendProblem(
  reply: FastifyReply,
  request: FastifyRequest,
  problem: ProblemError,
  typeBase: string,
) {
  if (problem.slug === 'unauthenticated') reply.header('www-authenticate', 'Bearer');
  if (problem.slug === 'unavailable') reply.header('retry-after', '2');
  const body = problemBody(problem, { id: request.id, instance: request.url, typeBase });
  return reply.code(problem.status).type(PROBLEM_TYPE).send(JSON.stringify(body));
}

/** The problem an error stands for. */
export function asProblem(error: unknown): ProblemError {
  if (error instanceof ProblemError) return error;
  const { code, statusCode, validation, validationContext, message } = error as FastifyError;
  if (validation !== undefined) {
    return new ProblemError('validation-failed', 'Some fields are not as expected.', {
      errors: validation.map((issue) => fieldError(issue, validationContext)),
    });
  }
  if (code === 'FST_ERR_CTP_BODY_TOO_LARGE') {
    return new ProblemError('payload-too-large', 'The body is larger than 256 KiB.');
  }
  if (code === 'FST_ERR_CTP_INVALID_MEDIA_TYPE') {
    return new ProblemError('unsupported-media-type', 'Send application/json.');
  }
  if (isUnavailable(code, statusCode)) {
    return new ProblemError('unavailable', 'Please try again in a moment.');
  }
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500) {
    return new ProblemError('malformed-request', message);
  }
  return new ProblemError('internal-error', 'Something went wrong on our side.');
}

// The database away, no connection free in time, or the framework closing or overloaded.
const AWAY = new Set(['ECONNREFUSED', 'ECONNRESET', 'P1001', 'P1002', 'P1017', 'P2024', 'P2028']);
const AWAY_SQLSTATE = /^(08|57P0|53)/;

function isUnavailable(code: string | undefined, statusCode: number | undefined): boolean {
  return statusCode === 503 || (code !== undefined && (AWAY.has(code) || AWAY_SQLSTATE.test(code)));
}

type ValidationIssue = NonNullable<FastifyError['validation']>[number];

function fieldError(issue: ValidationIssue, context: string | undefined): FieldError {
  return {
    in: PLACES[context ?? 'body'] ?? 'body',
    pointer: issue.instancePath,
    code: issue.keyword,
    message: issue.message ?? 'not as expected',
  };
}

const PLACES: Record<string, FieldError['in']> = {
  body: 'body',
  querystring: 'query',
  params: 'path',
  headers: 'header',
};
