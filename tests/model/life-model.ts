/*
 * What the product's text says of the life of a ticket from the finding to the money, as a model
 * that knows no code of the program: it says of every act whether it goes through, or by which
 * problems it may be refused where several stand in its way.
 */

export type RevisionState =
  | 'draft'
  | 'issued'
  | 'accepted'
  | 'declined'
  | 'withdrawn'
  | 'superseded';

export interface ModelRevision {
  state: RevisionState;
  /** Which findings its one option sells. */
  sells: number[];
  totalCents: number;
  declineTotalCents: number;
  issuedAtMs: number | undefined;
  /** The charged work of the visit that was agreed to when it was priced. */
  knew: string;
}

export interface ModelQuote {
  id: string;
  isChangeOrder: boolean;
  /** Of a change order. */
  parent: ModelQuote | undefined;
  revisions: ModelRevision[];
  acceptedAtMs: number | undefined;
  cancelUntilMs: number | undefined;
  isCancelled: boolean;
  /** Of which closing it was billed; undefined while it was not. */
  isBilled: boolean;
}

export interface ModelInvoice {
  id: string;
  state: 'draft' | 'issued' | 'settled';
  /** Known from the documents alone, unless some of the work was not done. */
  expectedCents: number | { atLeast: number; atMost: number };
  /** The quotes that it bills, or would. */
  bills: ModelQuote[];
  totalCents: number;
  paidCents: number;
  creditedCents: number;
  refundedCents: number;
  payments: { id: string; amountCents: number; isVoided: boolean }[];
}

export type TicketState =
  | 'new'
  | 'scheduled'
  | 'in_progress'
  | 'waiting_for_part'
  | 'waiting_for_answer'
  | 'work_complete'
  | 'closed';

export interface ModelVisit {
  id: string;
  purpose: 'call' | 'return' | 'callback';
  isLive: boolean;
  /** The ticket was closed since: what is done later is done at a later visit. */
  isOver: boolean;
}

export interface Model {
  nowMs: number;
  ticket: TicketState;
  visits: ModelVisit[];
  quotes: ModelQuote[];
  /** By finding: what was recorded under the yes that sells it. */
  outcomes: Map<number, { quoteId: string; outcome: 'done' | 'not_done' }>;
  partsUsed: Set<number>;
  readingsAfter: boolean;
  /** The visit of the last reading after. */
  readAtVisit?: string;
  isFeeBilled: boolean;
  closedAtMs: number | undefined;
  isReopened: boolean;
  /** Coming back with a part has no fee, also without a yes. */
  waitedForPart: boolean;
  invoices: ModelInvoice[];
}

/** The findings of the first visit: which of them take a part. */
export const findings = [
  { name: 'capacitor', part: 'CAP-45-5-440' },
  { name: 'contactor', part: 'CON-2P-30-24' },
  { name: 'breaker', part: undefined },
  { name: 'drain', part: undefined },
] as const;

/** Told at the call. */
export const FEE_CENTS = 8_900;
/** Of it, when work is accepted; by the invented policy, half. */
const FEE_CREDIT_CENTS = 4_450;
const DAY_MS = 86_400_000;

/** An act goes through, or is refused by one of these problems. */
export type Verdict = 'goes_through' | readonly string[];

export const latestOf = (quote: ModelQuote): ModelRevision => {
  const answered = quote.revisions.find(
    ({ state }) => state === 'accepted' || state === 'declined',
  );
  const latest = answered ?? quote.revisions.at(-1);
  if (latest === undefined) throw new Error('a quote has a revision');
  return latest;
};

export const standingOf = (quote: ModelQuote) =>
  quote.revisions.find(({ state }) => state === 'issued');

const acceptedOf = (quote: ModelQuote) => quote.revisions.find(({ state }) => state === 'accepted');

/** Yeses that hold: accepted, and not taken back. */
export const holding = (model: Model) =>
  model.quotes.filter((quote) => acceptedOf(quote) !== undefined && !quote.isCancelled);

/** The accepted quote of the visit; one that was taken back leaves the visit free for another. */
export const rootOf = (model: Model) => holding(model).find((quote) => !quote.isChangeOrder);

/** Which findings somebody has said yes to and that are not known to be left undone. */
export function soldOf(model: Model, butNot?: ModelQuote): Set<number> {
  const sold = new Set<number>();
  for (const quote of holding(model)) {
    if (quote === butNot) continue;
    for (const at of acceptedOf(quote)?.sells ?? []) {
      const outcome = model.outcomes.get(at);
      if (outcome?.quoteId === quote.id && outcome.outcome === 'not_done') continue;
      sold.add(at);
    }
  }
  return sold;
}

/** Whose time was charged on the visit: a reset is free, so it changes no later price. */
export const chargedOf = (model: Model) =>
  [...soldWithUndone(model)]
    .filter((at) => findings[at]?.name !== 'breaker')
    .sort()
    .join();

const soldWithUndone = (model: Model) =>
  new Set(holding(model).flatMap((quote) => acceptedOf(quote)?.sells ?? []));
export const isExpired = (model: Model, { issuedAtMs }: ModelRevision) =>
  // Until the end of the 30th day after the day of issue; the model only ever waits whole months.
  issuedAtMs !== undefined && model.nowMs - issuedAtMs >= 31 * DAY_MS;

function refusals(...reasons: [boolean, string][]): Verdict {
  const holds = reasons.filter(([is]) => is).map(([, problem]) => problem);
  return holds.length === 0 ? 'goes_through' : holds;
}

/** Open, and not closed since the visit that every quote of the model is of. */
const isOpen = ({ ticket }: Model) => ticket !== 'closed';
const maySell = (model: Model) => isOpen(model) && model.closedAtMs === undefined;
const sellsSold = (model: Model, sells: number[], butNot?: ModelQuote) =>
  sells.some((at) => soldOf(model, butNot).has(at));

export function mayDraft(model: Model, sells: number[], changeOrder: boolean): Verdict {
  const root = rootOf(model);
  return refusals(
    [!maySell(model), 'not-allowed-now'],
    [!changeOrder && root !== undefined, 'not-allowed-now'],
    [changeOrder && root === undefined, 'not-allowed-now'],
    [sellsSold(model, sells), 'price-refused'],
  );
}

export function mayRevise(model: Model, quote: ModelQuote, sells: number[]): Verdict {
  const { state } = latestOf(quote);
  return refusals(
    [!maySell(model), 'not-allowed-now'],
    [state !== 'draft' && state !== 'issued', 'not-allowed-now'],
    [parentGone(quote), 'not-allowed-now'],
    [sellsSold(model, sells), 'price-refused'],
  );
}

const parentGone = (quote: ModelQuote) => quote.parent?.isCancelled === true;

const isOutdated = (model: Model, quote: ModelQuote, { knew }: ModelRevision) =>
  quote.isChangeOrder && knew !== chargedOf(model);

const hasOtherRoot = (model: Model, quote: ModelQuote) => {
  const root = rootOf(model);
  return !quote.isChangeOrder && root !== undefined && root !== quote;
};

export function mayIssue(model: Model, quote: ModelQuote): Verdict {
  const latest = latestOf(quote);
  return refusals(
    [!maySell(model), 'not-allowed-now'],
    [latest.state !== 'draft', 'not-allowed-now'],
    [hasOtherRoot(model, quote), 'not-allowed-now'],
    [parentGone(quote), 'not-allowed-now'],
    [sellsSold(model, latest.sells), 'price-refused'],
    [isOutdated(model, quote, latest), 'price-outdated'],
  );
}

export type Slip = 'none' | 'total' | 'hash' | 'tag';

export function mayAccept(model: Model, quote: ModelQuote, slip: Slip): Verdict {
  const standing = standingOf(quote);
  if (standing === undefined)
    return refusals([true, 'not-allowed-now'], [slip === 'tag', 'version-changed']);
  return refusals(
    [slip === 'tag', 'version-changed'],
    [slip === 'total' || slip === 'hash', 'shown-content-changed'],
    [!maySell(model), 'not-allowed-now'],
    [isExpired(model, standing), 'quote-expired'],
    [hasOtherRoot(model, quote), 'not-allowed-now'],
    [parentGone(quote), 'not-allowed-now'],
    [sellsSold(model, standing.sells), 'price-refused'],
    [isOutdated(model, quote, standing), 'price-outdated'],
  );
}

export const mayDecline = (quote: ModelQuote): Verdict =>
  refusals([standingOf(quote) === undefined, 'not-allowed-now']);

export const mayWithdraw = (quote: ModelQuote): Verdict =>
  refusals([!['draft', 'issued'].includes(latestOf(quote).state), 'not-allowed-now']);

export function mayCancel(model: Model, quote: ModelQuote): Verdict {
  const { acceptedAtMs, cancelUntilMs, isCancelled } = quote;
  return refusals([
    acceptedAtMs === undefined ||
      isCancelled ||
      cancelUntilMs === undefined ||
      model.nowMs >= cancelUntilMs,
    'not-allowed-now',
  ]);
}

/** The yes under which a finding's work may be recorded. */
export const yesFor = (model: Model, at: number) =>
  holding(model).find((quote) => acceptedOf(quote)?.sells.includes(at));

export const recordsAt = (model: Model) => model.visits.at(-1);

const isOver = (model: Model) => recordsAt(model)?.isOver === true;

export function mayRecordOutcome(model: Model, at: number, outcome: 'done' | 'not_done'): Verdict {
  const isContradicted = outcome === 'not_done' && model.partsUsed.has(at);
  return refusals(
    [!isOpen(model) || isOver(model) || isContradicted, 'not-allowed-now'],
    [model.outcomes.has(at), 'already-exists'],
  );
}

export function mayUsePart(model: Model, at: number): Verdict {
  const outcome = model.outcomes.get(at);
  const isContradicted =
    outcome?.outcome === 'not_done' && outcome.quoteId === yesFor(model, at)?.id;
  return refusals([
    !isOpen(model) || isOver(model) || model.partsUsed.has(at) || isContradicted,
    'not-allowed-now',
  ]);
}

/** Nobody would hear of a yes to a quote of work that is called complete. */
export function mayFinish(model: Model, ticketIs: TicketState): Verdict {
  const waits = model.quotes.some((quote) => {
    const standing = standingOf(quote);
    return standing !== undefined && !isExpired(model, standing);
  });
  return refusals([ticketIs === 'work_complete' && waits, 'not-allowed-now']);
}

/** What closing still lacks. */
export function missing(model: Model, saysNoReadings: boolean): string[] {
  const lacks: string[] = [];
  if (model.visits.some(({ isLive }) => isLive)) lacks.push('visit');
  for (const quote of model.quotes) {
    const standing = standingOf(quote);
    if (standing !== undefined && !isExpired(model, standing)) lacks.push('answer');
  }
  for (const quote of holding(model).filter(({ isBilled }) => !isBilled)) {
    for (const at of acceptedOf(quote)?.sells ?? []) {
      const outcome = model.outcomes.get(at);
      if (outcome === undefined) lacks.push('outcome');
      else if (
        outcome.outcome === 'done' &&
        findings[at]?.part !== undefined &&
        !model.partsUsed.has(at)
      ) {
        lacks.push('part');
      }
    }
  }
  if (!model.readingsAfter && !saysNoReadings) lacks.push('readings_after');
  return [...new Set(lacks)].sort();
}

export function mayClose(model: Model, saysNoReadings: boolean): Verdict {
  const states = ['work_complete', 'waiting_for_answer', 'waiting_for_part'];
  // A ticket that was reopened is closed again though nobody came, where there was work.
  if (holding(model).length + model.outcomes.size + model.partsUsed.size > 0) states.push('new');
  return refusals(
    [!states.includes(model.ticket), 'not-allowed-now'],
    [missing(model, saysNoReadings).length > 0, 'work-not-recorded'],
  );
}

/** What a closing bills: fee and accepted documents, less work that was not done. */
export function billOf(model: Model): ModelInvoice['expectedCents'] {
  const unbilled = holding(model).filter(({ isBilled }) => !isBilled);
  const undone = (quote: ModelQuote, at: number) => {
    const outcome = model.outcomes.get(at);
    return outcome?.quoteId === quote.id && outcome.outcome === 'not_done';
  };
  const parts = unbilled.flatMap((quote) => {
    const accepted = acceptedOf(quote);
    if (accepted === undefined) return [];
    const left = accepted.sells.filter((at) => !undone(quote, at)).length;
    const isWhole = left === accepted.sells.length;
    return [{ isRoot: !quote.isChangeOrder, isWhole, left, cents: accepted.totalCents }];
  });
  const billed = parts.filter(({ left }) => left > 0);
  // A quote of which nothing was done is billed for its trip, where something was added to it.
  const trip = parts.filter(({ isRoot, left }) => isRoot && left === 0 && billed.length > 0);
  const inPart = [...billed.filter(({ isWhole }) => !isWhole), ...trip];
  const sum = (of: { cents: number }[]) => of.reduce((total, { cents }) => total + cents, 0);
  const whole = sum(billed.filter(({ isWhole }) => isWhole));
  const rootWasBilled = model.quotes.some((quote) => !quote.isChangeOrder && quote.isBilled);
  const rootIsBilled = [...billed, ...trip].some(({ isRoot }) => isRoot);
  if (!rootIsBilled && !rootWasBilled && !model.isFeeBilled) {
    return inPart.length === 0
      ? whole + FEE_CENTS
      : { atLeast: whole + FEE_CENTS, atMost: whole + sum(inPart) + FEE_CENTS };
  }
  if (inPart.length === 0) return whole;
  // Of a quote the fee stays, less what is credited of it; repairing never totals less than a no.
  const fee =
    rootIsBilled && inPart.some(({ isRoot }) => isRoot) ? FEE_CENTS - FEE_CREDIT_CENTS : 0;
  const least = rootIsBilled ? Math.max(FEE_CENTS, whole + fee) : whole;
  return { atLeast: least, atMost: whole + sum(inPart) };
}

export const balanceOf = (invoice: ModelInvoice) =>
  invoice.totalCents - invoice.creditedCents - invoice.paidCents + invoice.refundedCents;

export const mayIssueInvoice = ({ state }: ModelInvoice): Verdict =>
  refusals([state !== 'draft', 'not-allowed-now']);

export function mayPay(invoice: ModelInvoice, amountCents: number): Verdict {
  if (invoice.state !== 'issued') return ['not-allowed-now'];
  return refusals([amountCents > balanceOf(invoice), 'above-balance']);
}

export function mayRefund(invoice: ModelInvoice, amountCents: number): Verdict {
  if (invoice.state !== 'issued') return ['not-allowed-now'];
  return refusals([amountCents > -balanceOf(invoice), 'above-balance']);
}

export function mayVoid(invoice: ModelInvoice, payment: ModelInvoice['payments'][number]): Verdict {
  return refusals(
    [payment.isVoided, 'not-allowed-now'],
    [payment.isVoided, 'already-exists'],
    [invoice.refundedCents > invoice.paidCents - payment.amountCents, 'not-allowed-now'],
    [invoice.refundedCents > invoice.paidCents - payment.amountCents, 'above-balance'],
  );
}

export function mayReopen(model: Model): Verdict {
  const { closedAtMs } = model;
  return refusals(
    [model.ticket !== 'closed', 'not-allowed-now'],
    [closedAtMs !== undefined && model.nowMs - closedAtMs >= 31 * DAY_MS, 'not-allowed-now'],
  );
}

export function mayBook(model: Model): Verdict {
  const purpose = nextPurpose(model);
  if (purpose === 'callback') {
    const waits = ['new', 'waiting_for_part', 'waiting_for_answer'].includes(model.ticket);
    return refusals([!waits, 'not-allowed-now']);
  }
  return refusals(
    [!['waiting_for_part', 'waiting_for_answer'].includes(model.ticket), 'not-allowed-now'],
    [holding(model).length === 0 && !model.waitedForPart, 'not-allowed-now'],
  );
}

export const nextPurpose = ({ isReopened }: Model): 'return' | 'callback' =>
  isReopened ? 'callback' : 'return';
