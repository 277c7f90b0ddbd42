import type { FastifyReply, FastifyRequest } from 'fastify';
import { type HtmlValue, html } from '../platform/html/html.ts';
import { checkForm } from '../platform/http/form-body.ts';
import {
  beginSecondFactor,
  confirmSecondFactor,
  readMe,
  removeOwnSecondFactor,
} from '../sign-in/index.ts';
import { addresses } from './addresses.ts';
import type { SignedIn } from './come-in.ts';
import { type Field, formPart } from './form-part.ts';
import { beginFormSchema, confirmFormSchema, removeFormSchema } from './forms.ts';
import type { PageDeps } from './page-deps.ts';
import { qrPicture } from './qr-picture.ts';
import { type Shown, sendShown } from './send-shown.ts';
import { type FormTrouble, troubleIn, troubleOf } from './trouble-of.ts';
import type { Words } from './words.ts';

/** A request of somebody who is signed in, and may have a second factor. */
export interface FactorRequest {
  deps: PageDeps;
  context: SignedIn;
  request: FastifyRequest;
  reply: FastifyReply;
}

/** Shows the form that turns the second factor on, or off where it is on. */
export async function showFactor(of: FactorRequest, trouble?: FormTrouble) {
  const { secondFactor } = await readMe({ prisma: of.deps.db.prisma, actor: of.context.actor });
  const { isOn, recoveryCodesLeft } = secondFactor;
  return send(
    of,
    ({ factor }) => factor.title,
    trouble,
    (shown) => (isOn ? removePart(shown, recoveryCodesLeft) : beginPart(shown)),
  );
}

/** Shows the secret, once: a page that is asked for again has none. */
export async function takeBegin(of: FactorRequest) {
  const form = checkForm(beginFormSchema, of.request.body);
  if (form.outcome === 'mistaken') return showFactor(of, troubleIn('password', 'missing'));
  try {
    const { password } = form.values;
    const { body } = await beginSecondFactor(of.context, { password });
    return await send(
      of,
      ({ factor }) => factor.next,
      undefined,
      (shown) => secretPart(shown, body),
    );
  } catch (error) {
    return showFactor(of, troubleOf(error));
  }
}

/** Takes the first code, and shows the recovery codes once. */
export async function takeConfirm(of: FactorRequest) {
  const form = checkForm(confirmFormSchema, of.request.body);
  const again = (trouble: FormTrouble) =>
    send(of, ({ factor }) => factor.next, trouble, confirmPart);
  if (form.outcome === 'mistaken') return again(troubleIn('code', 'missing'));
  try {
    const { code } = form.values;
    const { body } = await confirmSecondFactor(of.context, { code });
    return await send(
      of,
      ({ factor }) => factor.onTitle,
      undefined,
      (shown) => codesPart(shown, body.recoveryCodes),
    );
  } catch (error) {
    return again(troubleOf(error));
  }
}

/** Takes the second factor away, and shows that it is off. */
export async function takeRemove(of: FactorRequest) {
  const form = checkForm(removeFormSchema, of.request.body);
  if (form.outcome === 'mistaken') {
    const [field = ''] = form.fields;
    return showFactor(of, troubleIn(field, 'missing'));
  }
  try {
    const { password, code } = form.values;
    await removeOwnSecondFactor(of.context, { password, code });
  } catch (error) {
    return showFactor(of, troubleOf(error));
  }
  return of.reply.redirect(addresses.account, 303);
}

function send(
  { deps, request, reply }: FactorRequest,
  title: (own: Words) => string,
  trouble: FormTrouble | undefined,
  content: (shown: Shown) => HtmlValue,
) {
  const head = { path: addresses.secondFactor, title, ...(trouble && { trouble }) };
  return sendShown(deps, request, reply, head, content);
}

function beginPart(shown: Shown): HtmlValue {
  const { factor } = shown.own;
  return html`<p class="lead">${factor.what}</p>
${formPart(shown, {
  to: `${addresses.secondFactor}/begin`,
  button: factor.begin,
  fields: [passwordField(shown)],
})}
${backPart(shown)}`;
}

function removePart(shown: Shown, recoveryCodesLeft: number): HtmlValue {
  const { account, factor } = shown.own;
  return html`<p class="lead">${account.on(recoveryCodesLeft)}</p>
<section aria-labelledby="off">
<h2 id="off">${factor.off}</h2>
<p>${factor.offHint}</p>
${formPart(
  shown,
  {
    to: `${addresses.secondFactor}/remove`,
    button: factor.remove,
    fields: [
      passwordField(shown),
      { name: 'code', label: factor.codeOrRecovery, type: 'text', fills: 'one-time-code' },
    ],
  },
  'no',
)}
</section>
${backPart(shown)}`;
}

function secretPart(shown: Shown, { secret, uri }: { secret: string; uri: string }): HtmlValue {
  const { factor } = shown.own;
  const groups = secret.match(/.{1,4}/g) ?? [];
  return html`<section>
<p class="lead">${factor.scan}</p>
${qrPicture(uri, factor.picture)}
<p>${factor.type}</p>
<p class="hash">${groups.join(' ')}</p>
<p><a class="jump" href="${uri}">${factor.open}</a></p>
</section>
${confirmPart(shown)}`;
}

function confirmPart(shown: Shown): HtmlValue {
  const { factor } = shown.own;
  return html`${formPart(shown, {
    to: `${addresses.secondFactor}/confirm`,
    button: factor.confirm,
    fields: [
      {
        ...{ name: 'code', label: factor.code, type: 'text', fills: 'one-time-code' },
        ...{ hint: factor.codeHint, isNumber: true },
      },
    ],
  })}
<p><a class="jump" href="${addresses.secondFactor}">${factor.again}</a></p>`;
}

function codesPart({ own: { factor } }: Shown, codes: readonly string[]): HtmlValue {
  return html`<div class="about">
<p class="lead">${factor.keep}</p>
<p>${factor.keepHint}</p>
</div>
<ul class="codes">${codes.map((code) => html`<li class="hash">${code}</li>`)}</ul>
<p class="to-answer"><a href="${addresses.account}">${factor.done}</a></p>`;
}

function passwordField({ own: { signIn } }: Shown): Field {
  return { name: 'password', label: signIn.password, type: 'password', fills: 'current-password' };
}

function backPart({ own }: Shown): HtmlValue {
  return html`<p><a class="jump" href="${addresses.account}">${own.account.title}</a></p>`;
}
