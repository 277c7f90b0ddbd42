import { correctedByFlag, currentAuditRuleset } from '../auditing/index.ts';
import { creditCorrections } from '../invoices/index.ts';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { answerFlag } from './answer-flag.ts';
import type { WholeFlag } from './flag-of.ts';
import { judgeTickets } from './judge-tickets.ts';
import { dismissedOf } from './known-flag-of.ts';
import { type KnownTerms, nothingKnown } from './known-terms.ts';
import { letterReason } from './letter-reasons.ts';
import { loadJobs } from './load-jobs.ts';
import { lockFlag } from './lock-flag.ts';
import { storeOf } from './store.ts';
import { storedFlags } from './stored-flags.ts';
import { writeLetter } from './write-letter.ts';

/**
 * The owner puts right what a flag says: what was too much is given back by a credit memo for each
 * invoice, with a letter to whoever pays. A flag that only asks for a look is closed with a note.
 * @throws ProblemError 404, 412 when somebody was first, 409 for a flag that was answered or holds no
 *   more
 */
export async function acceptFlag(
  act: ActContext,
  flagId: string,
  { note }: { note?: string | undefined },
): Promise<void> {
  const known = nothingKnown();
  const flag = await lockFlag(act, flagId, 'accept', known);
  const memos = flag.overCents === 0 ? [] : await giveBack(act, flag, known);
  const letter = memos.length === 0 ? undefined : await writeLetter(act.tx, flag, memos);
  await answerFlag(act, flag, {
    answer: 'accepted',
    reason: note,
    letter,
    memoIds: memos.map(({ id }) => id),
  });
  await appendJournal(act, {
    event: 'audit_flag.accepted',
    subject: { kind: 'audit_flag', id: flag.id },
    before: { state: 'open' },
    after: {
      ticketId: flag.ticketId,
      ruleCode: flag.ruleCode,
      memoIds: memos.map(({ id }) => id),
      totalCents: flag.overCents,
      state: 'accepted',
    },
  });
  // What other rules said of the same charges holds no more.
  const newId = () => act.newId();
  await judgeTickets({ tx: act.tx, now: act.now, newId, known }, [flag.ticketId]);
}

async function giveBack(
  act: ActContext,
  { ticketId, ruleCode, overCents }: WholeFlag,
  known: KnownTerms,
) {
  const [job] = await loadJobs(storeOf(act.tx), [ticketId], known);
  const dismissed = dismissedOf(await storedFlags(act.tx, ticketId));
  const corrected =
    job === undefined ? [] : correctedByFlag(job.facts, ruleCode, currentAuditRuleset, dismissed);
  const { en, es } = letterReason(ruleCode);
  const memos = await creditCorrections(act, corrected, { reason: en, reasonInSpanish: es });
  const givenCents = memos?.reduce((sum, { totalCents }) => sum + totalCents, 0);
  if (memos === undefined || givenCents !== overCents) {
    throw new ProblemError(
      'not-allowed-now',
      'The invoice holds less of these charges than would be given back. Look at it, and credit it there.',
      { currentState: 'open', allowedActions: ['dismiss'] },
    );
  }
  return memos;
}
