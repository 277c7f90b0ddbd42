import type { QuoteAction, QuoteState } from '../lifecycles/index.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { quoteStateAfter } from './quote-state-after.ts';

/** The state of one revision, as stored. */
export interface RevisionState {
  revision: number;
  state: QuoteState;
  version: number;
  validUntil: Date | null;
  contentHash: string | null;
  /** Accepted, and the yes was taken back within its time. */
  cancelled: boolean;
}

/** Whoever acts on a quote: our staff, or the customer at a link. */
export type LockContext = Pick<ActContext, 'tx' | 'now' | 'mustMatch'>;

/**
 * Locks a quote until the transaction ends, by the row of its ticket: whoever else wants to answer,
 * issue or revise it or another quote of the ticket, or to close the ticket, waits. The ticket
 * comes before the visit, wherever both are locked. What there is to see is read only then, by a
 * statement of its own: one that had to wait would still see the quote as it was before, without
 * the revision that was added meanwhile.
 * @returns the revisions, oldest first
 * @throws ProblemError 404 when there is none, 412 when the request means another version
 */
export async function lockQuote(act: LockContext, quoteId: string): Promise<RevisionState[]> {
  const revisions = await lockRevisions(act.tx, quoteId);
  act.mustMatch(quoteTag(revisions, act.now));
  return revisions;
}

/** The same for an act that means no version of the quote. */
export async function lockRevisions(tx: Tx, quoteId: string): Promise<RevisionState[]> {
  await lockTicketOf(tx, quoteId);
  const found = await sqlOf(tx).query<RevisionState>(REVISIONS, [quoteId]);
  if (found.rows.length === 0) throw notFound('quote');
  return found.rows;
}

/** The lock alone, for an act that reads the quote in its own way. One of no quote locks nothing. */
export async function lockTicketOf(tx: Tx, quoteId: string): Promise<void> {
  await sqlOf(tx).query(LOCK, [quoteId]);
}

/**
 * The entity tag of a quote. Every change adds one to the sum of its revisions' versions. That it
 * has expired is part of the tag, because nobody's writing makes it so; and so is a cancelled yes,
 * because an accepted revision never moves again.
 */
export function quoteTag(revisions: readonly RevisionState[], now: Date): string {
  const version = revisions.reduce((sum, revision) => sum + revision.version, 0);
  if (revisions.some(({ cancelled }) => cancelled)) return versionTag(version, '-cancelled');
  const expired = revisions.some((revision) => isExpired(revision, now));
  return versionTag(version, expired ? '-expired' : '');
}

/** Issued, and its validity has ended. Never stored: it is a matter of the clock. */
export function isExpired(revision: RevisionState, now: Date): boolean {
  return revision.state === 'issued' && revision.validUntil !== null && now >= revision.validUntil;
}

/**
 * The revision that is the quote now: the one that was answered, because an answer is final, or
 * else the last one made.
 */
export function latestOf(revisions: readonly RevisionState[]): RevisionState {
  const latest = revisions.find(isAnswered) ?? revisions.at(-1);
  if (latest === undefined) throw new Error('a quote has at least one revision');
  return latest;
}

function isAnswered({ state }: RevisionState): boolean {
  return state === 'accepted' || state === 'declined';
}

/**
 * Takes one revision of a locked quote a step along its life.
 * @throws ProblemError 409 when the step is not allowed from its state
 */
export async function moveRevision(
  tx: Tx,
  quoteId: string,
  revision: RevisionState,
  action: QuoteAction,
  now: Date,
): Promise<void> {
  const state = quoteStateAfter(revision.state, action);
  await sqlOf(tx).query(MOVE, [quoteId, revision.revision, state, now]);
}

/** An answer is final, so a newer draft of the same quote can never be issued any more. */
export async function supersedeDrafts(
  act: Pick<ActContext, 'tx' | 'now'>,
  quoteId: string,
  revisions: readonly RevisionState[],
): Promise<void> {
  for (const draft of revisions.filter(({ state }) => state === 'draft')) {
    await moveRevision(act.tx, quoteId, draft, 'supersede', act.now);
  }
}

const LOCK = `
  SELECT 1 FROM ticket WHERE id = (SELECT ticket_id FROM quote WHERE id = $1) FOR NO KEY UPDATE`;

const REVISIONS = `
  SELECT s.revision, s.state, s.version, i.valid_until AS "validUntil",
    i.content_hash AS "contentHash",
    s.state = 'accepted' AND EXISTS (
      SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = s.quote_id) AS cancelled
  FROM quote_state s
  LEFT JOIN quote_issue i ON i.quote_id = s.quote_id AND i.revision = s.revision
  WHERE s.quote_id = $1 ORDER BY s.revision`;

const MOVE = `
  UPDATE quote_state SET state = $3::quote_state_name, version = version + 1, changed_at = $4
  WHERE quote_id = $1 AND revision = $2`;
