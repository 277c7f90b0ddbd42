import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { frameWords, noteFailure, plainPage, sendPlain } from '../page-frame/index.ts';
import { html } from '../platform/html/html.ts';
import type { ProblemError } from '../platform/http/problem.ts';
import { sendNotRead } from './answer-file.ts';
import { hashIn } from './look-up.ts';
import type { PageDeps } from './page-deps.ts';
import { paperPath } from './paper-page.ts';
import { type Unread, words } from './words.ts';

type Deps = Pick<PageDeps, 'db'>;

/** What went wrong around a paper, as a page that leads back to it. */
export function answerPaperError(
  deps: Deps,
  error: FastifyError,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const { status, slug } = noteFailure(error, request, reply, WAIT_SECONDS);
  const path = paperPath(hashIn(request) ?? '');
  return sendPlain(deps, request, reply.code(status), {
    path,
    page: (to) => {
      const { refused, back } = words[to.language];
      const own = slug === 'forbidden' ? refused.cross_site : refused.unreadable;
      const { title, text } = status >= 500 ? frameWords[to.language].ourMistake : own;
      return plainPage(to, title, text, html`<p><a href="${path}">${back}</a></p>`);
    },
  });
}

/** What went wrong around a file, above the form to send it again. */
export function answerFileError(
  deps: Deps,
  error: FastifyError,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const problem = noteFailure(error, request, reply, WAIT_SECONDS);
  return sendNotRead(deps, request, reply.code(problem.status), whyOf(problem));
}

function whyOf({ status, slug }: ProblemError): { why: Unread; waitSeconds?: number } {
  if (slug === 'unavailable') return { why: 'busy', waitSeconds: WAIT_SECONDS };
  if (status >= 500) return { why: 'our_mistake' };
  return { why: slug === 'forbidden' ? 'cross_site' : 'unreadable' };
}

/** Many files at once, or the database away. */
const WAIT_SECONDS = 5;
