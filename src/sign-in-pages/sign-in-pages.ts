import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { keepsCookies, PAGE_HEADERS } from '../page-frame/index.ts';
import { html } from '../platform/html/html.ts';
import { takeForms } from '../platform/http/form-body.ts';
import { refuseCrossSite } from '../platform/http/refuse-cross-site.ts';
import { mayHaveFactor } from '../sign-in/index.ts';
import { leave, showAccount } from './account-page.ts';
import { addresses } from './addresses.ts';
import { answerError } from './answer-error.ts';
import { type OwnRequest, showChangePassword, takeChangePassword } from './change-password-page.ts';
import { comeIn, isSignedIn, type SignedIn } from './come-in.ts';
import {
  type FactorRequest,
  showFactor,
  takeBegin,
  takeConfirm,
  takeRemove,
} from './factor-pages.ts';
import type { PageDeps } from './page-deps.ts';
import { sendShown } from './send-shown.ts';
import { type SessionRequest, showSession, takeEndSession } from './session-pages.ts';
import { enterByLink, showPassword, takePassword } from './take-password.ts';
import { showSignIn, takeSignIn } from './take-sign-in.ts';

/**
 * The pages at which people of the company come in, and look after how they do: plain HTML, no
 * script. Whatever is sent has to come from these pages.
 */
export function servesSignInPages(app: FastifyInstance, deps: PageDeps): void {
  app.register(async (scope) => {
    takeForms(scope, { bytesMax: FORM_BYTES_MAX });
    scope.addHook('onRequest', async (request, reply) => {
      reply.headers(PAGE_HEADERS);
      if (!LOOKS.has(request.method)) refuseCrossSite(request);
    });
    scope.addHook('preHandler', async (request, reply) => {
      if (!keepsCookies(request, deps.typeBase)) return sendNeedsHttps(deps, request, reply);
      return undefined;
    });
    scope.setErrorHandler((error: FastifyError, request, reply) =>
      answerError(deps, error, request, reply),
    );
    servesEntrances(scope, deps);
    servesAccount(scope, deps);
    servesChangePassword(scope, deps);
    servesSessions(scope, deps);
  });
}

const OPEN = { schema: { hide: true }, config: { access: 'public' } } as const;

/** Four fields of a thousand letters at most, each of which may take nine bytes. */
const FORM_BYTES_MAX = 32 * 1_024;

const LOOKS: ReadonlySet<string> = new Set(['GET', 'HEAD']);

function servesEntrances(scope: FastifyInstance, deps: PageDeps): void {
  const { signIn, setPassword } = addresses;
  scope.get(signIn, OPEN, (request, reply) => showSignIn(deps, request, reply));
  scope.post(signIn, OPEN, (request, reply) => takeSignIn(deps, request, reply));
  scope.get(`${setPassword}/:token`, OPEN, (request, reply) => enterByLink(deps, request, reply));
  scope.get(setPassword, OPEN, (request, reply) => showPassword(deps, request, reply));
  scope.post(setPassword, OPEN, (request, reply) => takePassword(deps, request, reply));
}

function servesAccount(scope: FastifyInstance, deps: PageDeps): void {
  const { account, secondFactor } = addresses;
  scope.get(account, OPEN, (request, reply) =>
    whoeverIsIn(deps, request, reply, (context) => showAccount(deps, context, request, reply)),
  );
  for (const [end, everywhere] of [
    ['sign-out', false],
    ['sign-out-everywhere', true],
  ] as const) {
    scope.post(`${account}/${end}`, OPEN, (request, reply) =>
      leave(deps, request, reply, { everywhere }),
    );
  }
  const withFactor = (act: (of: FactorRequest) => unknown) => {
    return (request: FastifyRequest, reply: FastifyReply) =>
      whoeverIsIn(deps, request, reply, (context) =>
        mayHaveFactor(context.actor.role)
          ? act({ deps, context, request, reply })
          : reply.redirect(account, 303),
      );
  };
  scope.get(
    secondFactor,
    OPEN,
    withFactor((of) => showFactor(of)),
  );
  scope.post(`${secondFactor}/begin`, OPEN, withFactor(takeBegin));
  scope.post(`${secondFactor}/confirm`, OPEN, withFactor(takeConfirm));
  scope.post(`${secondFactor}/remove`, OPEN, withFactor(takeRemove));
  // A form that came back leaves its own address in the browser, and whoever asks for that again
  // wants the page.
  for (const end of ['begin', 'confirm', 'remove']) {
    scope.get(`${secondFactor}/${end}`, OPEN, (_, reply) => reply.redirect(secondFactor, 303));
  }
}

function servesChangePassword(scope: FastifyInstance, deps: PageDeps): void {
  const own = (act: (of: OwnRequest) => unknown) => {
    return (request: FastifyRequest, reply: FastifyReply) =>
      whoeverIsIn(deps, request, reply, (context) => act({ deps, context, request, reply }));
  };
  scope.get(
    addresses.password,
    OPEN,
    own((of) => showChangePassword(of)),
  );
  scope.post(addresses.password, OPEN, own(takeChangePassword));
}

function servesSessions(scope: FastifyInstance, deps: PageDeps): void {
  const one = `${addresses.sessions}/:sessionId`;
  const ofOne = (act: (of: SessionRequest) => unknown) => {
    return (request: FastifyRequest, reply: FastifyReply) =>
      whoeverIsIn(deps, request, reply, (context) => {
        const { sessionId } = request.params as { sessionId: string };
        return act({ deps, context, request, reply, sessionId });
      });
  };
  scope.get(
    one,
    OPEN,
    ofOne((of) => showSession(of)),
  );
  scope.post(`${one}/end`, OPEN, ofOne(takeEndSession));
  // A form that came back leaves its address in the browser.
  scope.get(`${one}/end`, OPEN, (_, reply) => reply.redirect(addresses.account, 303));
}

/** Leads whoever is not signed in, or no more, to the page where they do. */
async function whoeverIsIn(
  deps: PageDeps,
  request: FastifyRequest,
  reply: FastifyReply,
  show: (context: SignedIn) => unknown,
) {
  const context = await comeIn(deps, request);
  return isSignedIn(context) ? show(context) : reply.redirect(addresses.signIn, 303);
}

/** The cookie that keeps people signed in would be lost here, and a right password look wrong. */
function sendNeedsHttps(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendShown(
    ...([deps, request, reply.code(403)] as const),
    { path: addresses.signIn, title: ({ needsHttps }) => needsHttps.title },
    ({ own }) => html`<p class="lead">${own.needsHttps.text}</p>`,
  );
}
