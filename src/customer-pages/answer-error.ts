import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { noteFailure } from '../page-frame/index.ts';
import type { ProblemError } from '../platform/http/problem.ts';
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
  const problem = noteFailure(error, request, reply);
  const refusal = refusalOf(problem);
  return sendPlain(deps, request, reply.code(problem.status), (of) => refusalPage(of, refusal));
}

function refusalOf({ status, slug }: ProblemError): Refusal {
  if (status >= 500) return 'our_mistake';
  return slug === 'forbidden' ? 'cross_site' : 'unreadable';
}
