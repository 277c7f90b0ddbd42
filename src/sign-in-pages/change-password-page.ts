import type { FastifyReply, FastifyRequest } from 'fastify';
import { inSameLanguage } from '../page-frame/index.ts';
import { html } from '../platform/html/html.ts';
import { forgetBrowser } from '../platform/http/forget-browser.ts';
import { checkForm } from '../platform/http/form-body.ts';
import { changePassword, readMe } from '../sign-in/index.ts';
import { addresses } from './addresses.ts';
import type { SignedIn } from './come-in.ts';
import { type Field, formPart } from './form-part.ts';
import { changePasswordFormSchema } from './forms.ts';
import type { PageDeps } from './page-deps.ts';
import { type Shown, sendShown } from './send-shown.ts';
import { type FormTrouble, troubleIn, troubleOf } from './trouble-of.ts';

/** A request of somebody who is signed in. */
export interface OwnRequest {
  deps: PageDeps;
  context: SignedIn;
  request: FastifyRequest;
  reply: FastifyReply;
}

/** Shows the form for another password, with a field for a code where one is asked for. */
export async function showChangePassword(of: OwnRequest, trouble?: FormTrouble) {
  const { deps, context, request, reply } = of;
  const me = await readMe({ prisma: deps.db.prisma, actor: context.actor });
  return sendShown(
    ...([deps, request, reply] as const),
    {
      ...{ path: addresses.password, title: ({ changePassword: { title } }) => title },
      ...(trouble && { trouble }),
    },
    (shown) => {
      const { changePassword: own, account } = shown.own;
      return html`<p class="lead">${own.lead}</p>
${formPart(shown, {
  to: addresses.password,
  button: own.button,
  fields: fieldsFor(shown, me.secondFactor.isOn),
})}
<p><a class="jump" href="${addresses.account}">${account.title}</a></p>`;
    },
  );
}

/** Takes the new password: all sessions end, so whoever it is signs in with it. */
export async function takeChangePassword(of: OwnRequest) {
  const { context, request, reply } = of;
  const form = checkForm(changePasswordFormSchema, request.body);
  if (form.outcome === 'mistaken') {
    const [field = ''] = form.fields;
    return showChangePassword(of, troubleIn(field, 'missing'));
  }
  const { password, newPassword, again, code } = form.values;
  if (again !== newPassword) return showChangePassword(of, troubleIn('again', 'not_the_same'));
  try {
    await changePassword(context, { password, newPassword, code });
  } catch (error) {
    return showChangePassword(of, troubleOf(error));
  }
  forgetBrowser(request, reply);
  const next = inSameLanguage(addresses.signIn, request);
  return reply.redirect(`${next}${next.includes('?') ? '&' : '?'}password=changed`, 303);
}

function fieldsFor({ own }: Shown, needsCode: boolean): Field[] {
  const { changePassword, setPassword, factor } = own;
  const isNew = { type: 'password', fills: 'new-password' } as const;
  return [
    {
      ...{ name: 'password', label: changePassword.now },
      ...{ type: 'password', fills: 'current-password' },
    },
    { name: 'newPassword', label: changePassword.next, ...isNew, hint: setPassword.hint },
    { name: 'again', label: changePassword.again, ...isNew },
    ...(needsCode ? [{ ...{ name: 'code', label: factor.codeOrRecovery }, ...codeField }] : []),
  ];
}

const codeField = { type: 'text', fills: 'one-time-code' } as const;
