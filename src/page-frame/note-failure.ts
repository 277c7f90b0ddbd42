import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { asProblem } from '../platform/http/answer-errors.ts';
import type { ProblemError } from '../platform/http/problem.ts';

/**
 * Tells the log what went wrong with a page: our own mistakes whole, of which nothing is on the page.
 * What passes by itself, such as the database being away, says when to come again.
 * @returns what it is, for the page to say
 */
export function noteFailure(
  error: FastifyError,
  request: FastifyRequest,
  reply: FastifyReply,
  waitSeconds = 2,
): ProblemError {
  const problem = asProblem(error);
  if (problem.status >= 500) request.log.error({ err: error }, 'request failed');
  else request.log.info({ problem: problem.slug }, 'request refused');
  if (problem.slug === 'unavailable') reply.header('retry-after', waitSeconds);
  return problem;
}
