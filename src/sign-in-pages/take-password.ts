import type { FastifyReply, FastifyRequest } from 'fastify';
import { inSameLanguage, setCookie } from '../page-frame/index.ts';
import { html } from '../platform/html/html.ts';
import { checkForm } from '../platform/http/form-body.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { readCookie } from '../platform/http/read-cookie.ts';
import { type LinkedPerson, linkedPerson, useLink } from '../sign-in/index.ts';
import { addresses } from './addresses.ts';
import { comeIn } from './come-in.ts';
import { type Field, formPart } from './form-part.ts';
import { setPasswordFormSchema, typedIn } from './forms.ts';
import type { PageDeps } from './page-deps.ts';
import { type Shown, sendShown } from './send-shown.ts';
import { type FormTrouble, troubleIn, troubleOf } from './trouble-of.ts';

/** Takes the token of a link out of the address, and out of the history. */
export async function enterByLink(_: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const { token } = request.params as { token: string };
  reply.header('referrer-policy', 'no-referrer');
  // A token of ours has no other letters; whatever else stands there is no value of a cookie.
  const kept = /^[\w-]{1,200}$/.test(token) ? `${token}; Max-Age=${KEPT_SECONDS}` : '; Max-Age=0';
  setCookie(reply, `${COOKIE}=${kept}`);
  return reply.redirect(addresses.setPassword, 303);
}

/** Shows whoever came by a link the form for their password. */
export async function showPassword(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const person = await linkedPerson(deps.db.pool, tokenOf(request), deps.clock.now());
  return person === undefined
    ? sendDead(deps, request, reply)
    : sendForm(deps, request, reply, person);
}

/** Sets the password, once; then whoever it is signs in with it. */
export async function takePassword(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  const token = tokenOf(request);
  const person = await linkedPerson(deps.db.pool, token, deps.clock.now());
  if (person === undefined) return sendDead(deps, request, reply);
  const form = checkForm(setPasswordFormSchema, request.body);
  if (form.outcome === 'mistaken') {
    const [field = ''] = form.fields;
    const isEmail = field === 'email' && typedIn(request.body, field)?.trim() !== '';
    const kind = isEmail ? 'not_an_email' : 'missing';
    return sendForm(deps, request, reply, person, troubleIn(field, kind));
  }
  const { language: _, again, ...sent } = form.values;
  if (again !== sent.password) {
    return sendForm(deps, request, reply, person, troubleIn('again', 'not_the_same'));
  }
  try {
    await useLink(await comeIn(deps, request), { ...sent, token });
  } catch (error) {
    if (error instanceof ProblemError && error.slug === 'not-found') {
      return sendDead(deps, request, reply);
    }
    return sendForm(deps, request, reply, person, troubleOf(error));
  }
  setCookie(reply, `${COOKIE}=; Max-Age=0`);
  const next = inSameLanguage(addresses.signIn, request);
  return reply.redirect(`${next}${next.includes('?') ? '&' : '?'}password=set`, 303);
}

const COOKIE = '__Host-join';

/** Time enough to think of a password. */
const KEPT_SECONDS = 3_600;

function tokenOf(request: FastifyRequest): string {
  return readCookie(request.headers.cookie, COOKIE) ?? '';
}

function sendForm(
  deps: PageDeps,
  request: FastifyRequest,
  reply: FastifyReply,
  person: LinkedPerson,
  trouble?: FormTrouble,
) {
  return sendShown(
    ...([deps, request, reply] as const),
    {
      ...{ path: addresses.setPassword, title: ({ setPassword: { title } }) => title },
      ...(trouble && { trouble }),
    },
    (shown) => {
      const { setPassword: own } = shown.own;
      const lead = person.kind === 'first_owner' ? own.leadFirst : own.lead(person.name);
      const typed = (field: string) => typedIn(request.body, field);
      return html`<p class="lead">${lead}</p>
${formPart(shown, {
  to: addresses.setPassword,
  button: own.button,
  fields: fieldsFor(shown, person, typed),
})}`;
    },
  );
}

function fieldsFor(
  { own: { setPassword, signIn } }: Shown,
  person: LinkedPerson,
  typed: (field: string) => string | undefined,
): Field[] {
  const isFirst = person.kind === 'first_owner';
  const name: Field = {
    ...{ name: 'name', label: setPassword.name, type: 'text', fills: 'name' },
    typed: typed('name'),
  };
  const email: Field = {
    ...{ name: 'email', label: signIn.email, type: 'email', fills: 'username' },
    typed: typed('email'),
  };
  return [
    ...(isFirst ? [name, email] : []),
    {
      ...{ name: 'password', label: signIn.password, type: 'password', fills: 'new-password' },
      hint: setPassword.hint,
    },
    { name: 'again', label: setPassword.again, type: 'password', fills: 'new-password' },
  ];
}

function sendDead(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendShown(
    ...([deps, request, reply.code(404)] as const),
    { path: addresses.setPassword, title: ({ setPassword: { dead } }) => dead.title },
    ({ own }) => html`<p class="lead">${own.setPassword.dead.text}</p>
<p><a class="jump" href="${addresses.signIn}">${own.signIn.title}</a></p>`,
  );
}
