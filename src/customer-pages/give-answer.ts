import type { z } from 'zod';
import type { Database, Tx } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { violationOf } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { sha256 } from '../platform/sha256.ts';
import {
  type AnswerContext,
  acceptQuote,
  cancelAcceptance,
  declineQuote,
  lockTicketOf,
} from '../quotes/index.ts';
import { cancelText, consentText } from './consent-text.ts';
import type { acceptFormSchema, cancelFormSchema, declineFormSchema } from './forms.ts';
import {
  acceptedAt,
  mayCancel,
  paperIn,
  type QuoteAt,
  quoteAt,
  type Standing,
} from './quote-at.ts';
import type { Refusal } from './words.ts';

/** What a customer sent. */
export type Answer =
  | { kind: 'accept'; form: z.output<typeof acceptFormSchema> }
  | { kind: 'decline'; form: z.output<typeof declineFormSchema> }
  | { kind: 'cancel'; form: z.output<typeof cancelFormSchema> };

/** Who answers, and how. */
export interface Answering extends Omit<AnswerContext, 'tx' | 'actor' | 'mustMatch'> {
  db: Pick<Database, 'transact'>;
  link: QuoteAt['link'];
}

/** What became of an answer; `link_gone` when the link was made worthless meanwhile. */
export type Given =
  | { outcome: 'stands'; customerLanguage: string }
  | { outcome: 'refused'; refusal: Refusal }
  | { outcome: 'link_gone' };

/**
 * Records an answer that came through a link, in one transaction with its journal entry. The same
 * answer again, by a double press or a page sent twice, is the one that stands and changes nothing.
 * Whatever binds was shown, in the language it was shown in: an answer to another text than the one
 * that stands records nothing.
 */
export async function giveAnswer(by: Answering, answer: Answer): Promise<Given> {
  try {
    return await inTx(by.db, (tx) => answerUnderLock(tx, by, answer));
  } catch (error) {
    if (violationOf(error)?.constraint?.endsWith('_living_link')) return { outcome: 'link_gone' };
    if (error instanceof ProblemError && error.status < 500)
      return refused(REFUSALS[error.slug] ?? 'not_now');
    throw error;
  }
}

const REFUSALS: Partial<Record<ProblemError['slug'], Refusal>> = {
  'shown-content-changed': 'changed',
  'quote-expired': 'expired',
  'above-approval-limit': 'above_limit',
  'price-outdated': 'price_outdated',
};

function refused(refusal: Refusal): Given {
  return { outcome: 'refused', refusal };
}

async function answerUnderLock(tx: Tx, by: Answering, answer: Answer): Promise<Given> {
  // Whoever issues, withdraws or answers waits on the same row, so what is read now stays true.
  await lockTicketOf(tx, by.link.quoteId);
  const quote = await quoteAt(tx, by.link, by.now);
  const stands: Given = { outcome: 'stands', customerLanguage: quote.customerLanguage };
  if (standsAlready(quote, answer)) return stands;
  const refusal = refusalOf(quote, answer, by.now);
  if (refusal !== undefined) return refused(refusal);
  await record(tx, by, quote, answer);
  return stands;
}

/** The same answer, by the same name: whoever else answers is told that there is one already. */
function standsAlready({ standing, contentHash }: QuoteAt, { kind, form }: Answer): boolean {
  if (form.hash !== contentHash) return false;
  switch (kind) {
    case 'accept':
      return (
        standing.state === 'accepted' &&
        standing.yes.cancellation === null &&
        standing.yes.optionId === form.option &&
        standing.yes.totalCents === form.total &&
        standing.yes.acceptedByName === form.name
      );
    case 'decline':
      return standing.state === 'declined' && standing.no.declinedByName === form.name;
    case 'cancel':
      return (
        standing.state === 'accepted' && standing.yes.cancellation?.cancelledByName === form.name
      );
  }
}

function refusalOf(quote: QuoteAt, answer: Answer, now: Date): Refusal | undefined {
  if (answer.kind === 'cancel') return refusalOfCancel(quote, answer, now);
  const { standing, contentHash } = quote;
  if (standing.state === 'holder_replaced') return 'not_now';
  if (standing.state === 'accepted' || standing.state === 'declined') return 'answered';
  if (answer.form.hash !== contentHash) return 'changed';
  if (NOT_NOW.has(standing.state)) return 'not_now';
  return answer.kind === 'accept' ? refusalOfText(quote, answer.form) : undefined;
}

const NOT_NOW: ReadonlySet<Standing['state']> = new Set(['ended', 'parent_cancelled']);

type AcceptForm = Extract<Answer, { kind: 'accept' }>['form'];

/** What is agreed to is a text, so it is the text itself that must be the one that was shown. */
function refusalOfText(quote: QuoteAt, { option, language, text }: AcceptForm) {
  const at = placeOf(quote, option);
  if (at === -1) return 'unreadable';
  return sha256(consentText(quote, at, language)) === text ? undefined : 'reworded';
}

function placeOf({ options }: QuoteAt, optionId: string): number {
  return options.findIndex(({ id }) => id === optionId);
}

function refusalOfCancel(
  quote: QuoteAt,
  { form }: Extract<Answer, { kind: 'cancel' }>,
  now: Date,
): Refusal | undefined {
  const { standing, contentHash } = quote;
  if (standing.state !== 'accepted') return 'not_now';
  if (form.hash !== contentHash) return 'other_yes';
  if (standing.yes.cancellation !== null) return 'answered';
  if (!mayCancel(standing.yes, now)) return 'too_late';
  const shown = cancelText(quote, acceptedAt(quote), form.language);
  return sha256(shown) === form.text ? undefined : 'reworded';
}

async function record(tx: Tx, by: Answering, quote: QuoteAt, answer: Answer): Promise<void> {
  const { db, link, ...context } = by;
  const act: AnswerContext = {
    ...context,
    tx,
    actor: { kind: 'customer', id: link.id, name: link.holderName, holderId: link.holderId },
    // The forms carry the fingerprint of what was shown instead of an entity tag.
    mustMatch: () => undefined,
  };
  switch (answer.kind) {
    case 'accept': {
      const { option, total, hash, name, language } = answer.form;
      return acceptQuote(act, link.quoteId, {
        optionId: option,
        acceptedByName: name,
        consentText: consentText(quote, placeOf(quote, option), language),
        shownTotalCents: total,
        shownContentHash: hash,
        language: paperIn(quote, language).language,
      });
    }
    case 'decline': {
      const { name, reason } = answer.form;
      const because = reason === undefined ? {} : { reason };
      return declineQuote(act, link.quoteId, { declinedByName: name, ...because });
    }
    case 'cancel':
      return cancelAcceptance(act, link.quoteId, {
        cancelledByName: answer.form.name,
        noticeText: cancelText(quote, acceptedAt(quote), answer.form.language),
      });
  }
}
