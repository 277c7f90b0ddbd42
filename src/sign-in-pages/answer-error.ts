import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { languageOf, noteFailure, sendPage, troublePage } from '../page-frame/index.ts';
import { html } from '../platform/html/html.ts';
import { addresses } from './addresses.ts';
import type { PageDeps } from './page-deps.ts';
import { sendShown } from './send-shown.ts';

/** What went wrong as a page: our own mistakes in the log, and nothing of them on the page. */
export async function answerError(
  deps: PageDeps,
  error: FastifyError,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const { status } = noteFailure(error, request, reply);
  reply.code(status);
  if (status < 500) return sendRefused(deps, request, reply);
  // It may be the database that is away, so the page asks it for nothing.
  const language = languageOf(request);
  return sendPage(reply, language, troublePage(language));
}

/** A form of another site, or none of ours: nothing was done. */
function sendRefused(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendShown(
    ...([deps, request, reply] as const),
    { path: addresses.signIn, title: ({ crossSite }) => crossSite.title },
    ({ own }) => html`<p class="lead">${own.crossSite.text}</p>
<p><a class="jump" href="${addresses.signIn}">${own.signIn.title}</a></p>`,
  );
}
