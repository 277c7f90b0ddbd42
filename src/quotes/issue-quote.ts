import { companyOf, endOfLocalDay } from '../company/index.ts';
import { refuseOutdated } from '../evidence/index.ts';
import { appendJournal } from '../journal/index.ts';
import { publishPaper } from '../papers/index.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { pricingInputsSchema } from '../pricing/index.ts';
import { requireConfirmation } from './equipment-rules.ts';
import { findingIdsOf, findingsOf } from './findings-of.ts';
import { latestOf, lockQuote, moveRevision } from './lock-quote.ts';
import { quotePaperOf } from './quote-paper-of.ts';
import { quoteStateAfter } from './quote-state-after.ts';
import { refuseOldPrice } from './refuse-old-price.ts';
import { refuseSecondOfVisit } from './refuse-second-quote.ts';
import { refuseSoldWork } from './refuse-sold-work.ts';
import { requireCurrentVisit } from './require-current-visit.ts';
import { refuseWhenComplete, requireOpenTicket } from './require-open-ticket.ts';
import { requireStandingParent } from './require-standing-parent.ts';

/**
 * Issues the latest revision of a quote: freezes the paper's whole text with its hash and starts
 * its validity, which ends at the company's local midnight. A revision issued earlier is
 * superseded. Rendering comes later and never holds this up.
 * @throws ProblemError 409 unless the latest revision is a draft, when its price is not today's, on a
 *   ticket that has ended or whose work is complete, or when it offers a new machine that the owner has not confirmed; 422
 *   when the evidence carries it no more, or what it sells was sold meanwhile
 */
export async function issueQuote(act: ActContext, quoteId: string): Promise<void> {
  const revisions = await lockQuote(act, quoteId);
  const latest = latestOf(revisions);
  // Refused before anything is written: the paper's row comes before the state that it proves.
  quoteStateAfter(latest.state, 'issue');
  const quote = await act.tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    include: { visit: { include: { ticket: { include: { site: true } } } } },
  });
  requireOpenTicket(quote.visit.ticket);
  refuseWhenComplete(quote.visit.ticket);
  await requireCurrentVisit(act.tx, quote);
  await refuseSecondOfVisit(act, quoteId);
  await requireStandingParent(act.tx, quote);
  const standing = revisions.find(({ state }) => state === 'issued');
  if (standing !== undefined && standing !== latest) {
    await moveRevision(act.tx, quoteId, standing, 'supersede', act.now);
  }
  const company = await companyOf(act.tx);
  const revision = await act.tx.quoteRevision.findUniqueOrThrow({
    where: { quoteId_number: { quoteId, number: latest.revision } },
  });
  const inputs = pricingInputsSchema.parse(revision.inputs);
  await refuseOutdated(act.tx, await findingsOf(act.tx, inputs));
  const place = { quoteId, parentId: quote.parentId, visit: quote.visit };
  await refuseSoldWork(act.tx, place, findingIdsOf(inputs.options));
  await refuseOldPrice(act, place, revision, inputs, company.timeZone);
  await requireConfirmation(act.tx, revision);
  const { policy } = inputs;
  const validUntil = endOfLocalDay(act.now, policy.quoteValidityDays, company.timeZone);
  const paper = await quotePaperOf(act.tx, revision, { issuedAt: act.now, validUntil, company });
  const text = canonicalJson(paper);
  const contentHash = sha256(text);
  await sqlOf(act.tx).query(ISSUE, [
    quoteId,
    latest.revision,
    act.now,
    act.actor.id,
    validUntil,
    contentHash,
    text,
  ]);
  await moveRevision(act.tx, quoteId, latest, 'issue', act.now);
  const of = { kind: 'quote', revisionId: revision.id } as const;
  await publishPaper(act, { ticketId: quote.ticketId, number: quote.number, of });
  await appendJournal(act, {
    event: 'quote.issued',
    subject: { kind: 'quote', id: quoteId },
    after: { revision: latest.revision, contentHash, validUntil },
  });
}

const ISSUE = `
  INSERT INTO quote_issue
    (quote_id, revision, issued_at, issued_by_id, valid_until, content_hash, paper)
  VALUES ($1, $2, $3, $4, $5, $6, $7)`;
