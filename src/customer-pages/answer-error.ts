import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { asProblem } from '../platform/http/answer-errors.ts';
import type { PageDeps } from './page-deps.ts';
import { refusalPage } from './plain-pages.ts';
import { sendPlain } from './send-plain.ts';
import type { Refusal } from './words.ts';

/** What went wrong as a page: our own mistakes in the log, and nothing of them on the page. */
export async function answerError(
  deps: PageDeps,
  error: FastifyError,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const problem = asProblem(error);
  if (problem.status >= 500) request.log.error({ err: error }, 'request failed');
  else request.log.info({ problem: problem.slug }, 'request refused');
  // What passes by itself: papers that wait to be drawn, or the database away.
  if (problem.slug === 'unavailable') reply.header('retry-after', '2');
  const refusal = refusalOf(problem);
  return sendPlain(deps, request, reply.code(problem.status), (of) => refusalPage(of, refusal));
}

function refusalOf({ status, slug }: ReturnType<typeof asProblem>): Refusal {
  if (status >= 500) return 'our_mistake';
  return slug === 'forbidden' ? 'cross_site' : 'unreadable';
}
