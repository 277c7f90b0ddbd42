import { companyOf } from '../company/index.ts';
import type { QuotePaper } from '../documents/index.ts';
import type { Language } from '../page-frame/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Company, Prisma } from '../platform/database/generated/client.ts';
import { workKinds } from '../pricing/index.ts';
import type { LivingLink } from '../quote-links/index.ts';
import { acceptedBeforeCents, type ChangedQuote, changedQuoteOf } from '../quotes/index.ts';
import { endedStates } from '../tickets/index.ts';

/** The quote behind a link, with everything its page says. */
export interface QuoteAt {
  link: LivingLink;
  company: Company;
  number: number;
  revision: number;
  /** As it was frozen at issue; the Spanish one is absent on papers of before it was written. */
  papers: { en: QuotePaper; es: QuotePaper | undefined };
  contentHash: string;
  validUntil: Date;
  /** In the order of the paper's options. */
  options: readonly OptionAt[];
  standing: Standing;
  /**
   * The holder of the link decides or pays for the site still. Who does not any more keeps what they
   * answered themselves, and is told nothing of what came of it since.
   */
  hasPart: boolean;
  /** The job is neither done nor over. */
  isWorkAhead: boolean;
  /** A change order, which adds to an accepted quote. */
  isChange: boolean;
  parentNumber: number | undefined;
  /** Of a change order: what it adds to; nothing is said of it once that was cancelled. */
  changes: ChangedQuote | undefined;
  /** What the holder of the link may agree to; whoever pays has no limit. */
  limitCents: number | undefined;
  /** What was agreed to on the same ticket already, which counts toward that limit. */
  agreedBeforeCents: number;
  payerName: string;
  customerLanguage: string;
}

export interface OptionAt {
  id: string;
  totalCents: number;
  /** It sells no work. */
  isVisitOnly: boolean;
  /** The holder of this link may not agree to as much. */
  isAboveLimit: boolean;
}

/** Where the quote stands for its customer. */
export type Standing =
  | { state: 'open' | 'expired' | Closed }
  | { state: 'accepted'; yes: Yes; fallen: Fallen }
  | { state: 'declined'; no: No; left: Left | undefined };

/**
 * Why nothing can be answered any more, where nobody answered. Whether anybody did is not told to
 * whom was replaced, nor anything else of the quote: it is their successor's now.
 */
export type Closed = 'withdrawn' | 'replaced' | 'ended' | 'parent_cancelled' | 'holder_replaced';

/** What became of the rest when a yes was taken back. */
export interface Fallen {
  /** The changes of it that were agreed to, and fell with it. */
  changes: readonly { number: number; totalCents: number }[];
  wasBilled: boolean;
}

/** How the system was left after a no. */
export interface Left {
  condition: string;
  danger: string | null;
}

export type Yes = NonNullable<WholeQuote['acceptance']>;
export type No = NonNullable<WholeQuote['decline']>;

const byWhom = { link: { select: { holderId: true } } } as const;

const WHOLE = {
  states: { orderBy: { revision: 'desc' } },
  issues: true,
  acceptance: { include: { cancellation: { include: byWhom }, ...byWhom } },
  decline: { include: { note: true, ...byWhom } },
  parent: { include: { acceptance: { include: { cancellation: true } } } },
  changes: { include: { acceptance: { include: { cancellation: true } } } },
  ticket: {
    include: {
      site: { include: { approver: true, payer: true } },
      closings: { orderBy: { closedAt: 'desc' }, take: 1 },
    },
  },
  revisions: {
    include: {
      options: {
        orderBy: { position: 'asc' },
        include: {
          _count: { select: { lines: { where: { kind: { in: [...workKinds] } } } } },
        },
      },
    },
  },
} satisfies Prisma.QuoteInclude;
type WholeQuote = Prisma.QuoteGetPayload<{ include: typeof WHOLE }>;

/**
 * Reads the quote of a link as it stands: the revision that was answered, or the one that is issued,
 * or else the last one that was ever issued, which says what became of it. It only looks.
 */
export async function quoteAt(prisma: Tx, link: LivingLink, now: Date): Promise<QuoteAt> {
  const quote = await prisma.quote.findUniqueOrThrow({
    where: { id: link.quoteId },
    include: WHOLE,
  });
  const shown = shownRevision(quote);
  const issue = quote.issues.find(({ revision }) => revision === shown.revision);
  const revision = quote.revisions.find(({ number }) => number === shown.revision);
  if (issue === undefined || revision === undefined)
    throw new Error('a link is of an issued quote');
  const { site } = quote.ticket;
  const limitCents =
    site.payerId === link.holderId ? undefined : (site.approverLimitCents ?? undefined);
  const agreedBeforeCents = await acceptedBeforeCents(prisma, quote);
  const standing = await standingOf(prisma, quote, shown.state, issue.validUntil, now);
  const hasPart = link.holderId === site.approverId || link.holderId === site.payerId;
  return {
    link,
    company: await companyOf(prisma),
    number: quote.number,
    revision: shown.revision,
    papers: papersOf(issue),
    contentHash: issue.contentHash,
    validUntil: issue.validUntil,
    options: revision.options.map(({ id, totalCents, _count }) => ({
      id,
      totalCents,
      isVisitOnly: _count.lines === 0,
      isAboveLimit: limitCents !== undefined && agreedBeforeCents + totalCents > limitCents,
    })),
    standing: hasPart || isOwnAnswer(standing, link) ? standing : { state: 'holder_replaced' },
    hasPart,
    isWorkAhead: ![...endedStates, 'work_complete'].includes(quote.ticket.state),
    isChange: quote.parentId !== null,
    parentNumber: quote.parent?.number,
    changes: isParentCancelled(quote) ? undefined : await changedQuoteOf(prisma, quote),
    limitCents,
    agreedBeforeCents,
    payerName: site.payer.name,
    customerLanguage: link.holderLanguage,
  };
}

/** The paper in a language, or in English where that language was not written. */
export function paperIn({ papers }: QuoteAt, language: Language): QuotePaper {
  return papers[language] ?? papers.en;
}

/** The place of the accepted option on the paper. */
export function acceptedAt({ standing, options }: QuoteAt): number {
  if (standing.state !== 'accepted') throw new Error('nothing is accepted');
  return options.findIndex(({ id }) => id === standing.yes.optionId);
}

/** Whether a yes can still be taken back, by the rule that gave it its time. */
export function mayCancel({ cancellation, cancelUntil }: Yes, now: Date): boolean {
  return cancellation === null && cancelUntil !== null && now < cancelUntil;
}

type State = WholeQuote['states'][number];

function shownRevision({ states, issues }: WholeQuote): State {
  const wasIssued = ({ revision }: State) => issues.some((issue) => issue.revision === revision);
  const answered = states.find(({ state }) => state === 'accepted' || state === 'declined');
  const issued = states.find(({ state }) => state === 'issued');
  const shown = answered ?? issued ?? states.find(wasIssued);
  if (shown === undefined) throw new Error('a link is of an issued quote');
  return shown;
}

async function standingOf(
  prisma: Tx,
  quote: WholeQuote,
  state: State['state'],
  validUntil: Date,
  now: Date,
): Promise<Standing> {
  const { acceptance, decline } = quote;
  if (acceptance !== null) {
    return { state: 'accepted', yes: acceptance, fallen: await fallenWith(prisma, quote) };
  }
  if (decline !== null) return { state: 'declined', no: decline, left: leftAfter(quote, decline) };
  if (state !== 'issued') return { state: state === 'withdrawn' ? 'withdrawn' : 'replaced' };
  if (endedStates.includes(quote.ticket.state)) return { state: 'ended' };
  if (isParentCancelled(quote)) return { state: 'parent_cancelled' };
  return { state: now < validUntil ? 'open' : 'expired' };
}

/**
 * A quote is for whoever decides or pays for its site now; once somebody else does, it is told only
 * to whoever answered it at a link of theirs: it is what they agreed to or refused.
 */
function isOwnAnswer(standing: Standing, { holderId }: LivingLink): boolean {
  if (standing.state === 'accepted') return standing.yes.link?.holderId === holderId;
  return standing.state === 'declined' && standing.no.link?.holderId === holderId;
}

function isParentCancelled({ parent }: WholeQuote): boolean {
  return (parent?.acceptance?.cancellation ?? null) !== null;
}

async function fallenWith(prisma: Tx, { id, changes: added }: WholeQuote): Promise<Fallen> {
  const changes = added.flatMap(({ number, acceptance }) =>
    acceptance === null || acceptance.cancellation === null
      ? []
      : [{ number, totalCents: acceptance.totalCents }],
  );
  const billed = await prisma.invoiceDocument.count({
    where: { quoteId: { in: [id, ...added.map((change) => change.id)] } },
  });
  return { changes, wasBilled: billed > 0 };
}

/** Said with the no, or afterwards by our staff, or at last when the ticket was closed. */
function leftAfter({ ticket }: WholeQuote, { conditionLeft, dangerWarned, note, declinedAt }: No) {
  if (conditionLeft !== null) return { condition: conditionLeft, danger: dangerWarned };
  const [closing] = ticket.closings.filter(({ closedAt }) => closedAt >= declinedAt);
  const said = note ?? closing;
  return said && { condition: said.conditionLeft, danger: said.dangerWarned };
}

/** Frozen by this program when the revision was issued, under the hash beside it. */
function papersOf({ paper, contentHash }: WholeQuote['issues'][number]): QuoteAt['papers'] {
  const frozen = paper as unknown as QuotePaper & { inSpanish?: QuotePaper };
  return {
    en: { ...frozen, contentHash },
    es: frozen.inSpanish && { ...frozen.inSpanish, contentHash },
  };
}
