import type { FastifyReply, FastifyRequest } from 'fastify';
import { inSameLanguage } from '../page-frame/index.ts';
import { checkForm, type FormFields } from '../platform/http/form-body.ts';
import { refuseCrossSite } from '../platform/http/refuse-cross-site.ts';
import type { LivingLink } from '../quote-links/index.ts';
import { actContext } from './act-context.ts';
import { acceptFormSchema, cancelFormSchema, declineFormSchema, type TypedForm } from './forms.ts';
import { type Answer, giveAnswer } from './give-answer.ts';
import { linkAt } from './link-at.ts';
import { pagePath } from './link-cookie.ts';
import type { PageDeps } from './page-deps.ts';
import { nothingRecordedPage } from './plain-pages.ts';
import { sendPlain } from './send-plain.ts';
import { sendQuote } from './send-quote.ts';
import { typedText } from './typed-text.ts';
import type { Refusal } from './words.ts';

/** Takes a form of the page: leads back to it with the answer on record, or shows what is wrong. */
export async function takeAnswer(
  deps: PageDeps,
  kind: Answer['kind'],
  request: FastifyRequest,
  reply: FastifyReply,
) {
  refuseCrossSite(request);
  const link = await linkAt(deps, request);
  if (link === undefined) return sendNothingRecorded(deps, request, reply);
  const typed = typedIn(request);
  const form = checkForm(FORMS[kind], typed);
  if (form.outcome === 'mistaken') {
    return sendMistakes(deps, link, request, reply, { form: kind, typed, mistakes: form.fields });
  }
  const given = await giveAnswer(
    { ...actContext(deps, request, deps.clock.now()), db: deps.db, link },
    { kind, form: form.values } as Answer,
  );
  switch (given.outcome) {
    case 'stands': {
      const page = pagePath(link.quoteNumber);
      return reply.redirect(inSameLanguage(page, request, given.customerLanguage), 303);
    }
    case 'link_gone':
      return sendNothingRecorded(deps, request, reply);
    case 'refused':
      if (given.refusal === 'reworded') {
        return sendReworded(deps, link, request, reply, { form: kind, typed });
      }
      reply.code(STATUS[given.refusal] ?? 409);
      return sendQuote(deps, link, request, reply, { refusal: given.refusal });
  }
}

const FORMS = {
  accept: acceptFormSchema,
  decline: declineFormSchema,
  cancel: cancelFormSchema,
} as const;

const STATUS: Partial<Record<Refusal, number>> = { changed: 412, other_yes: 412, unreadable: 422 };

function typedIn({ body }: FastifyRequest): FormFields {
  const fields = Object.entries((body ?? {}) as FormFields);
  return Object.fromEntries(fields.map(([name, value]) => [name, typedText(value)]));
}

/**
 * A form with what was typed and what is missing. What a person cannot have typed, the page's own
 * hidden fields, is no form of this page.
 */
function sendMistakes(
  deps: PageDeps,
  link: LivingLink,
  request: FastifyRequest,
  reply: FastifyReply,
  failed: TypedForm,
) {
  reply.code(422);
  const isOurs = [...failed.mistakes].every((field) => TYPED.has(field));
  return sendQuote(deps, link, request, reply, isOurs ? { failed } : { refusal: 'unreadable' });
}

/**
 * The form again with the text as it is worded now. What was typed stays; that the text is agreed
 * to does not, for this one was not read yet.
 */
function sendReworded(
  deps: PageDeps,
  link: LivingLink,
  request: FastifyRequest,
  reply: FastifyReply,
  { form, typed }: Pick<TypedForm, 'form' | 'typed'>,
) {
  const { agree: _agree, notice: _notice, ...kept } = typed;
  reply.code(412);
  return sendQuote(deps, link, request, reply, {
    refusal: 'reworded',
    failed: { form, typed: kept, mistakes: new Set() },
  });
}

const TYPED = new Set(['name', 'agree', 'reason', 'notice']);

function sendNothingRecorded(deps: PageDeps, request: FastifyRequest, reply: FastifyReply) {
  return sendPlain(deps, request, reply.code(404), nothingRecordedPage);
}
