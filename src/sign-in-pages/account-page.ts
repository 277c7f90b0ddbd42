import type { FastifyReply, FastifyRequest } from 'fastify';
import { inSameLanguage } from '../page-frame/index.ts';
import { type Html, html } from '../platform/html/html.ts';
import { forgetBrowser } from '../platform/http/forget-browser.ts';
import { listOwnSessions, mayHaveFactor, readMe, signOut } from '../sign-in/index.ts';
import { addresses } from './addresses.ts';
import { comeIn, isSignedIn, type SignedIn } from './come-in.ts';
import { formPart } from './form-part.ts';
import type { PageDeps } from './page-deps.ts';
import { type Shown, sendShown } from './send-shown.ts';
import { sessionsPart } from './session-pages.ts';

/** Shows who is signed in, and what they can do about it. */
export async function showAccount(
  deps: PageDeps,
  context: SignedIn,
  request: FastifyRequest,
  reply: FastifyReply,
) {
  const { prisma } = deps.db;
  const me = await readMe({ prisma, actor: context.actor });
  const sessions = await listOwnSessions({ ...context, prisma }, { take: SESSIONS_MAX });
  return sendShown(
    ...([deps, request, reply] as const),
    { path: addresses.account, title: ({ account: { title } }) => title },
    (shown) => {
      const own = shown.own.account;
      return html`<p class="lead">${own.who(me.name, own.role[me.role])}</p>
${mayHaveFactor(me.role) && factorPart(shown, me.secondFactor)}
${sessionsPart(shown, sessions)}
<section aria-labelledby="password">
<h2 id="password">${own.password}</h2>
<p class="to-answer"><a href="${addresses.password}">${shown.own.changePassword.button}</a></p>
</section>
<section aria-labelledby="leave">
<h2 id="leave">${own.leave}</h2>
${formPart(shown, { to: `${addresses.account}/sign-out`, button: own.signOut })}
<p class="small">${own.everywhereHint}</p>
${formPart(shown, { to: `${addresses.account}/sign-out-everywhere`, button: own.everywhere }, 'no')}
</section>`;
    },
  );
}

/** More than anybody has open; whoever does ends them all at once. */
const SESSIONS_MAX = 50;

/**
 * Ends this session, or all of whoever asks, and leads to the sign-in page. The browser forgets what
 * it has of us also where the session had ended by itself.
 */
export async function leave(
  deps: PageDeps,
  request: FastifyRequest,
  reply: FastifyReply,
  how: { everywhere: boolean },
) {
  const context = await comeIn(deps, request);
  if (isSignedIn(context)) await signOut(context, how);
  forgetBrowser(request, reply);
  return reply.redirect(inSameLanguage(addresses.signIn, request), 303);
}

function factorPart(
  { own }: Shown,
  { isOn, recoveryCodesLeft }: { isOn: boolean; recoveryCodesLeft: number },
): Html {
  const { factor, on, off, turnOn, change } = own.account;
  return html`<section aria-labelledby="factor">
<h2 id="factor">${factor}</h2>
<p>${isOn ? on(recoveryCodesLeft) : off}</p>
<p class="to-answer"><a href="${addresses.secondFactor}">${isOn ? change : turnOn}</a></p>
</section>`;
}
