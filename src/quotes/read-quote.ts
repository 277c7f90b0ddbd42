import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { type ChargeClass, chargeClassSchema, type Why, whyForCustomer } from '../pricing/index.ts';
import { ownTickets } from '../staff/index.ts';
import type { quoteLineSchema, quoteSchema } from './contract.ts';
import { type LinkMaker, linkMakers } from './link-makers.ts';
import { isExpired, latestOf, quoteTag, type RevisionState } from './lock-quote.ts';
import { quoteRequests } from './quote-state-after.ts';

const WHOLE = {
  states: { orderBy: { revision: 'asc' } },
  issues: true,
  acceptance: { include: { cancellation: true } },
  decline: { include: { note: true } },
  revisions: {
    include: {
      options: {
        orderBy: { position: 'asc' },
        include: { lines: { orderBy: { position: 'asc' } } },
      },
    },
  },
} satisfies Prisma.QuoteInclude;
type WholeQuote = Prisma.QuoteGetPayload<{ include: typeof WHOLE }>;

type QuoteBody = z.input<typeof quoteSchema>;
type Asker = Pick<ActContext, 'actor' | 'now'>;

/**
 * A quote as whoever asks may see it, with its entity tag. Costs are for the owner only; a
 * technician sees the quotes of tickets with a visit of theirs.
 * @param number the revision asked for; the latest when undefined
 * @throws ProblemError 404 for a quote or revision that is not there, or not theirs
 */
export async function readQuote(
  prisma: Pick<Tx, 'quote' | 'quoteLink' | 'staff'>,
  asker: Asker,
  id: string,
  number?: number,
): Promise<{ body: QuoteBody; etag: string }> {
  const where = { id, ticket: ownTickets(asker.actor) };
  const quote = await prisma.quote.findUnique({ where, include: WHOLE });
  if (quote === null) throw notFound('quote');
  const revisions = revisionStates(quote);
  const shown =
    number === undefined ? latestOf(revisions) : revisions.find((each) => each.revision === number);
  if (shown === undefined) throw notFound('revision');
  const answers = await answersOf(prisma, quote);
  return {
    body: { ...toBody(quote, shown, asker), ...answers },
    etag: quoteTag(revisions, asker.now),
  };
}

function revisionStates(quote: WholeQuote): RevisionState[] {
  return quote.states.map(({ revision, state, version }) => {
    const issue = quote.issues.find((each) => each.revision === revision);
    return {
      revision,
      state,
      version,
      validUntil: issue?.validUntil ?? null,
      contentHash: issue?.contentHash ?? null,
      cancelled: state === 'accepted' && quote.acceptance?.cancellation != null,
    };
  });
}

function toBody(
  quote: WholeQuote,
  shown: RevisionState,
  asker: Asker,
): Omit<QuoteBody, 'acceptance' | 'decline'> {
  const revision = quote.revisions.find(({ number }) => number === shown.revision);
  if (revision === undefined) throw new Error('a state belongs to a revision');
  const issue = quote.issues.find((each) => each.revision === shown.revision);
  return {
    id: quote.id,
    number: quote.number,
    ticketId: quote.ticketId,
    visitId: quote.visitId,
    parentId: quote.parentId,
    revision: shown.revision,
    state: shown.state,
    expired: isExpired(shown, asker.now),
    allowedActions: quoteRequests(shown.state),
    issuedAt: issue?.issuedAt.toISOString() ?? null,
    validUntil: issue?.validUntil.toISOString() ?? null,
    contentHash: issue?.contentHash ?? null,
    rulesetVersion: revision.rulesetVersion,
    laborRateCents: revision.laborRateCents,
    declineTotalCents: revision.declineTotalCents,
    options: revision.options.map(({ id, position, title, taxCents, totalCents, lines }) => ({
      id,
      position,
      title,
      classTotals: classTotalsOf(lines),
      taxCents,
      totalCents,
      lines: lines.map((line) => toLine(line, asker)),
    })),
    revisions: quote.states.map(({ revision: number, state }) => ({ revision: number, state })),
  };
}

type StoredLine = WholeQuote['revisions'][number]['options'][number]['lines'][number];
type LineBody = z.input<typeof quoteLineSchema>;

function toLine(line: StoredLine, { actor }: Asker): LineBody {
  // Stored by this program from the engine's own type, never from a request.
  const why = line.why as unknown as Why;
  return {
    position: line.position,
    key: line.key,
    kind: line.kind as LineBody['kind'],
    class: line.priceClass as LineBody['class'],
    code: line.code,
    description: line.description,
    findingIds: line.findingIds,
    aimedAt: line.aimedAt,
    quantity: line.quantity,
    unitPriceCents: line.unitPriceCents,
    minutes: line.minutes,
    measured: line.measured?.toFixed() ?? null,
    unit: line.unit,
    amountCents: line.amountCents,
    why: actor.role === 'owner' ? why : whyForCustomer(why),
  };
}

function classTotalsOf(lines: readonly StoredLine[]): Record<ChargeClass, number> {
  const totals: Record<ChargeClass, number> = { visit_fee: 0, part: 0, labor: 0, access: 0 };
  for (const { priceClass, amountCents } of lines) {
    const known = chargeClassSchema.safeParse(priceClass);
    if (known.success) totals[known.data] += amountCents;
  }
  return totals;
}

/** What was answered, and through whose link where it came through one. */
async function answersOf(
  prisma: Pick<Tx, 'quoteLink' | 'staff'>,
  { acceptance, decline }: WholeQuote,
): Promise<Pick<QuoteBody, 'acceptance' | 'decline'>> {
  const cancellation = acceptance?.cancellation ?? null;
  const linkIds = [acceptance, cancellation, decline].flatMap((answer) => answer?.linkId ?? []);
  const makerOf = await linkMakers(prisma, linkIds);
  return {
    acceptance: acceptance && {
      revision: acceptance.revision,
      optionId: acceptance.optionId,
      totalCents: acceptance.totalCents,
      acceptedByName: acceptance.acceptedByName,
      acceptedAt: acceptance.acceptedAt.toISOString(),
      ...throughOf(acceptance, makerOf),
      language: acceptance.language === 'es' ? 'es' : 'en',
      cancelUntil: acceptance.cancelUntil?.toISOString() ?? null,
      cancellation: cancellation && {
        cancelledByName: cancellation.cancelledByName,
        cancelledAt: cancellation.cancelledAt.toISOString(),
        ...throughOf(cancellation, makerOf),
      },
    },
    decline: decline && {
      revision: decline.revision,
      declinedByName: decline.declinedByName,
      reason: decline.reason,
      conditionLeft: decline.conditionLeft ?? decline.note?.conditionLeft ?? null,
      dangerWarned: decline.dangerWarned ?? decline.note?.dangerWarned ?? null,
      declinedAt: decline.declinedAt.toISOString(),
      ...throughOf(decline, makerOf),
    },
  };
}

function throughOf(
  { linkId }: { linkId: string | null },
  makerOf: (linkId: string) => LinkMaker,
): Pick<NonNullable<QuoteBody['decline']>, 'through' | 'linkMadeBy'> {
  if (linkId === null) return { through: 'staff', linkMadeBy: null };
  const { madeAt, staff } = makerOf(linkId);
  return { through: 'link', linkMadeBy: staff && { ...staff, madeAt: madeAt.toISOString() } };
}
