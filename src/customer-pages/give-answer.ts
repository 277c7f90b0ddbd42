import type { z } from 'zod';
import { type Database, sqlOf, type Tx } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { violationOf } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';
import {
  type AnswerContext,
  acceptQuote,
  cancelAcceptance,
  declineQuote,
} from '../quotes/index.ts';
import { cancelText, consentText } from './consent-text.ts';
import type { acceptFormSchema, cancelFormSchema, declineFormSchema } from './forms.ts';
import { acceptedAt, mayCancel, paperIn, type QuoteAt, quoteAt } from './quote-at.ts';
import type { Language, Refusal } from './words.ts';

/** What a customer sent. */
export type Answer =
  | { kind: 'accept'; form: z.output<typeof acceptFormSchema> }
  | { kind: 'decline'; form: z.output<typeof declineFormSchema> }
  | { kind: 'cancel'; form: z.output<typeof cancelFormSchema> };

/** Who answers, and how. */
export interface Answering extends Omit<AnswerContext, 'tx' | 'actor' | 'mustMatch'> {
  db: Pick<Database, 'transact'>;
  link: QuoteAt['link'];
  language: Language;
}

/**
 * Records an answer that came through a link, in one transaction with its journal entry. The same
 * answer again, by a double press or a page sent twice, is the one that stands and changes nothing.
 * Whatever binds was shown: an answer to another text than the one that stands records nothing.
 * @returns undefined when the answer stands, or why it was not taken; `link_gone` when the link
 *   was made worthless meanwhile
 */
export async function giveAnswer(
  by: Answering,
  answer: Answer,
): Promise<Refusal | 'link_gone' | undefined> {
  try {
    return await inTx(by.db, (tx) => answerUnderLock(tx, by, answer));
  } catch (error) {
    if (violationOf(error)?.constraint?.endsWith('_living_link')) return 'link_gone';
    if (error instanceof ProblemError && error.status < 500)
      return REFUSALS[error.slug] ?? 'not_now';
    throw error;
  }
}

const REFUSALS: Partial<Record<ProblemError['slug'], Refusal>> = {
  'shown-content-changed': 'changed',
  'quote-expired': 'expired',
  'above-approval-limit': 'above_limit',
};

async function answerUnderLock(
  tx: Tx,
  by: Answering,
  answer: Answer,
): Promise<Refusal | undefined> {
  // Whoever issues, withdraws or answers waits on the same row, so what is read now stays true.
  await sqlOf(tx).query(LOCK, [by.link.quoteId]);
  const quote = await quoteAt(tx, by.link, by.now);
  if (standsAlready(quote, answer)) return undefined;
  const refusal = refusalOf(quote, answer, by.now);
  if (refusal !== undefined) return refusal;
  await record(tx, by, quote, answer);
  return undefined;
}

const LOCK = `
  SELECT 1 FROM ticket WHERE id = (SELECT ticket_id FROM quote WHERE id = $1) FOR NO KEY UPDATE`;

function standsAlready({ standing, contentHash }: QuoteAt, { kind, form }: Answer): boolean {
  if (form.hash !== contentHash) return false;
  switch (kind) {
    case 'accept':
      return (
        standing.state === 'accepted' &&
        standing.yes.cancellation === null &&
        standing.yes.optionId === form.option
      );
    case 'decline':
      return standing.state === 'declined';
    case 'cancel':
      return standing.state === 'accepted' && standing.yes.cancellation !== null;
  }
}

function refusalOf(quote: QuoteAt, { kind, form }: Answer, now: Date): Refusal | undefined {
  const { standing, contentHash, options } = quote;
  if (kind === 'cancel') {
    if (standing.state !== 'accepted') return 'not_now';
    if (form.hash !== contentHash) return 'changed';
    return mayCancel(standing.yes, now) ? undefined : 'too_late';
  }
  if (standing.state === 'accepted' || standing.state === 'declined') return 'answered';
  if (form.hash !== contentHash) return 'changed';
  if (standing.state === 'ended' || standing.state === 'parent_cancelled') return 'not_now';
  const isForeign = kind === 'accept' && !options.some(({ id }) => id === form.option);
  return isForeign ? 'unreadable' : undefined;
}

async function record(tx: Tx, by: Answering, quote: QuoteAt, answer: Answer): Promise<void> {
  const { db, link, language, ...context } = by;
  const act: AnswerContext = {
    ...context,
    tx,
    actor: { kind: 'customer', id: link.id, name: link.holderName, holder: link.holder },
    // The forms carry the fingerprint of what was shown instead of an entity tag.
    mustMatch: () => undefined,
  };
  switch (answer.kind) {
    case 'accept': {
      const { option, total, hash, name } = answer.form;
      const at = quote.options.findIndex(({ id }) => id === option);
      return acceptQuote(act, link.quoteId, {
        optionId: option,
        acceptedByName: name,
        consentText: consentText(quote, at, language),
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
        noticeText: cancelText(quote, acceptedAt(quote), language),
      });
  }
}
