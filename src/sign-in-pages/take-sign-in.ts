import type { FastifyReply, FastifyRequest } from 'fastify';
import { inSameLanguage } from '../page-frame/index.ts';
import { html } from '../platform/html/html.ts';
import { checkForm } from '../platform/http/form-body.ts';
import { signIn } from '../sign-in/index.ts';
import { addresses } from './addresses.ts';
import { comeIn, isSignedIn } from './come-in.ts';
import { formPart } from './form-part.ts';
import { signInFormSchema, typedIn } from './forms.ts';
import type { PageDeps } from './page-deps.ts';
import { sendShown } from './send-shown.ts';
import { type FormTrouble, troubleIn, troubleOf } from './trouble-of.ts';

/** Takes what was typed at the sign-in page: whoever it lets in goes on to their account. */
export async function takeSignIn(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const form = checkForm(signInFormSchema, request.body);
  if (form.outcome === 'mistaken') {
    const [field = ''] = form.fields;
    return sendSignIn(deps, request, reply, troubleIn(field, 'missing'));
  }
  const { email, password, code } = form.values;
  const context = { ...(await comeIn(deps, request)), actor: undefined };
  try {
    const { cookie } = await signIn(context, { email, password, code, carrier: 'cookie' });
    if (cookie !== undefined) reply.header('set-cookie', cookie);
  } catch (error) {
    return sendSignIn(deps, request, reply, troubleOf(error, { code }));
  }
  return reply.redirect(inSameLanguage(addresses.account, request), 303);
}

/** Shows the sign-in page; whoever is signed in already is led to their account. */
export async function showSignIn(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  if (isSignedIn(await comeIn(deps, request))) return reply.redirect(addresses.account, 303);
  return sendSignIn(deps, request, reply);
}

function sendSignIn(
  deps: PageDeps,
  request: FastifyRequest,
  reply: FastifyReply,
  trouble?: FormTrouble,
) {
  const { password: became } = request.query as { password?: unknown };
  const head = {
    path: addresses.signIn,
    title: ({ signIn: { title } }) => title,
  } satisfies Parameters<typeof sendShown>[3];
  return sendShown(
    ...([deps, request, reply] as const),
    { ...head, ...(trouble && { trouble }) },
    (shown) => {
      const own = shown.own.signIn;
      const done = became === 'set' ? own.passwordSet : became === 'changed' && own.passwordChanged;
      return html`${done && html`<p class="lead" role="status">${done}</p>`}
${formPart(shown, {
  to: addresses.signIn,
  button: own.button,
  fields: [
    {
      ...{ name: 'email', label: own.email, type: 'email', fills: 'username' },
      typed: typedIn(request.body, 'email'),
    },
    { name: 'password', label: own.password, type: 'password', fills: 'current-password' },
    {
      ...{ name: 'code', label: own.code, type: 'text', fills: 'one-time-code' },
      ...{ hint: own.codeHint, isOptional: true },
    },
  ],
})}
<p class="small">${own.lost}</p>`;
    },
  );
}
