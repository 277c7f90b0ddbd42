import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { localMomentText } from '../company/index.ts';
import { inSameLanguage } from '../page-frame/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { forgetBrowser } from '../platform/http/forget-browser.ts';
import { checkForm } from '../platform/http/form-body.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { endOwnSession, type OwnSession, readOwnSession } from '../sign-in/index.ts';
import { addresses } from './addresses.ts';
import type { SignedIn } from './come-in.ts';
import { formPart } from './form-part.ts';
import { endSessionFormSchema } from './forms.ts';
import type { PageDeps } from './page-deps.ts';
import { type Shown, sendShown } from './send-shown.ts';
import { type FormTrouble, troubleIn, troubleOf } from './trouble-of.ts';

/** A request about one session of whoever asks, or what may be none. */
export interface SessionRequest {
  deps: PageDeps;
  context: SignedIn;
  request: FastifyRequest;
  reply: FastifyReply;
  sessionId: string;
}

/** Where somebody is signed in, as a part of their account. */
export function sessionsPart(shown: Shown, sessions: readonly OwnSession[]): Html {
  const { sessions: own } = shown.own;
  return html`<section aria-labelledby="sessions">
<h2 id="sessions">${own.title}</h2>
<ul class="lines">${sessions.map((session) => {
    const name = `session-${session.id}`;
    return html`<li class="about">
<div>
<p><b id="${name}">${nameOf(shown, session)}</b></p>
${timesPart(shown, session)}
</div>
${
  session.isThisOne
    ? html`<p>${own.thisOne}</p>`
    : html`<p class="to-answer"><a href="${pathOf(session)}" aria-describedby="${name}">${own.end}</a></p>`
}
</li>`;
  })}</ul>
</section>`;
}

/** Shows one session with the form that ends it. */
export async function showSession(of: SessionRequest, trouble?: FormTrouble) {
  const { deps, request, reply } = of;
  const session = await ownSession(of);
  if (session === undefined) return sendOver(of);
  return sendShown(
    ...([deps, request, reply] as const),
    {
      ...{ path: pathOf(session), title: ({ sessions: { end } }) => end },
      ...(trouble && { trouble }),
    },
    (shown) => {
      const { sessions: own, signIn } = shown.own;
      return html`<div class="about">
<p class="lead">${nameOf(shown, session)}</p>
<div>${timesPart(shown, session)}</div>
<p>${own.endHint}</p>
</div>
${formPart(
  shown,
  {
    to: `${pathOf(session)}/end`,
    button: own.end,
    fields: [
      {
        ...{ name: 'password', label: signIn.password },
        ...{ type: 'password', fills: 'current-password' },
      },
    ],
  },
  'no',
)}
${backPart(shown)}`;
    },
  );
}

/** Ends one session, and leads back to the account; whoever ended their own here signs in again. */
export async function takeEndSession(of: SessionRequest) {
  const { context, request, reply, sessionId } = of;
  if ((await ownSession(of)) === undefined) return sendOver(of);
  const form = checkForm(endSessionFormSchema, request.body);
  if (form.outcome === 'mistaken') return showSession(of, troubleIn('password', 'missing'));
  try {
    const { password } = form.values;
    const { isLeft } = await endOwnSession(context, sessionId, { password });
    if (!isLeft) return reply.redirect(addresses.account, 303);
  } catch (error) {
    // Somebody else may have ended it just now.
    return isNotFound(error) ? sendOver(of) : showSession(of, troubleOf(error));
  }
  forgetBrowser(request, reply);
  return reply.redirect(inSameLanguage(addresses.signIn, request), 303);
}

async function ownSession({ deps, context, sessionId }: SessionRequest) {
  // What has not even the form of an identifier is none of theirs either.
  if (!z.uuid().safeParse(sessionId).success) return undefined;
  try {
    return await readOwnSession({ ...context, prisma: deps.db.prisma }, sessionId);
  } catch (error) {
    if (isNotFound(error)) return undefined;
    throw error;
  }
}

function isNotFound(error: unknown): boolean {
  return error instanceof ProblemError && error.slug === 'not-found';
}

function pathOf({ id }: OwnSession): string {
  return `${addresses.sessions}/${id}`;
}

function nameOf({ own: { sessions } }: Shown, { program, carrier }: OwnSession): string {
  return program ?? (carrier === 'cookie' ? sessions.browser : sessions.program);
}

function timesPart({ own: { sessions }, language, timeZone }: Shown, session: OwnSession): Html {
  const at = (instant: string) => localMomentText(new Date(instant), timeZone, language);
  const { startedAt, lastUsedAt, expiresAt } = session;
  return html`<p class="small">${sessions.since(at(startedAt))}</p>
<p class="small">${sessions.used(at(lastUsedAt))}</p>
<p class="small">${sessions.ends(at(expiresAt))}</p>`;
}

/** Over, another's or none at all: which, nobody learns. */
function sendOver({ deps, request, reply }: SessionRequest) {
  return sendShown(
    ...([deps, request, reply.code(404)] as const),
    { path: addresses.account, title: ({ sessions: { over } }) => over.title },
    (shown) => html`<p class="lead">${shown.own.sessions.over.text}</p>
${backPart(shown)}`,
  );
}

function backPart({ own: { account } }: Shown): HtmlValue {
  return html`<p><a class="jump" href="${addresses.account}">${account.title}</a></p>`;
}
