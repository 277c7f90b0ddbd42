import { endOfLocalDay } from '../../src/company/index.ts';
import { describeFinding, type WholeFinding } from '../../src/evidence/index.ts';
import type { QuoteState } from '../../src/lifecycles/index.ts';
import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import {
  currentPricingRuleset,
  type PricedOption,
  type PricedQuote,
  type PricingInputs,
  type WorkItem,
} from '../../src/pricing/index.ts';
import { composePaper, lineRow, optionRow } from '../../src/quotes/index.ts';
import type { Observation } from '../../src/trade/index.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import type { Place } from './place.ts';
import { bookAt } from './price-books.ts';
import { pricingInputsOf, type VisitTerms } from './pricing-inputs-of.ts';
import type { Scenario } from './scenarios.ts';
import type { FieldVisit } from './write-evidence.ts';
import type { Wrong } from './wrongs/wrong.ts';

/** How a quote ends, as far as it has. */
export type QuoteOutcome = 'accepted' | 'declined' | 'unanswered' | 'withdrawn' | 'draft';

export interface QuoteJob {
  visit: FieldVisit;
  terms: VisitTerms;
  place: Place;
  findings: readonly WholeFinding[];
  observations: readonly Observation[];
  options: Scenario['options'];
  outcome: QuoteOutcome;
  purpose: 'call' | 'callback';
  /** The faults by which our own work came back. */
  recalled: ReadonlySet<string>;
  wrong: Pick<Wrong, 'bendPrice' | 'keepsInputs' | 'acts'> | undefined;
  /** The accepted quote that this one changes, with all that was accepted of the visit so far. */
  changes?: Changed | undefined;
  /** What somebody changes by hand in the price of the first option. */
  adjust?: Adjust | undefined;
  /** Whether the customer asked for another version before the answer. */
  isRevised: boolean;
  draftedAt: Date;
}

/** A quote that a change order changes. */
export interface Changed {
  quoteId: string;
  quoteNumber: number;
  /** Whether it has the fee of the trip. */
  chargeable: boolean;
  agreedCents: number;
  accepted: readonly (readonly SoldLine[])[];
}

/** Gives a price with what people changed by hand in it. */
export type Adjust = (inputs: PricingInputs) => PricingInputs;

/** A revision that was drafted, with what its answer needs. */
interface Drafted {
  quoteId: string;
  revisionId: string;
  number: number;
  /** As stored, with what is stored of the price. */
  inputs: PricingInputs;
  quote: PricedQuote;
  /** What the price should have been, where it was bent. */
  honest: PricedFirst | undefined;
  firstOptionId: string;
  lines: readonly SoldLine[];
  draftedAt: Date;
}

/** The first option as it is priced. */
interface PricedFirst {
  inputs: PricingInputs;
  lines: readonly SoldLine[];
}

/** A line of an option as it is stored. */
export type SoldLine = ReturnType<typeof lineRow>;

/** An accepted option, with what it should have been where its price was bent. */
export interface Sold extends PricedFirst {
  quoteId: string;
  quoteNumber: number;
  optionId: string;
  rulesetVersion: string;
  acceptedAt: Date;
  honest: PricedFirst | undefined;
}

/** What became of a quote: what its last paper was priced from, and what was agreed to. */
export interface Offered {
  told: PricingInputs | undefined;
  sold: Sold | undefined;
}

interface Issued extends Drafted {
  quoteNumber: number;
  issuedAt: Date;
  contentHash: string;
}

/** Writes a quote with its revisions, papers and answer. Every price is the engine's own. */
export function writeQuote(ticketPen: Pen, job: QuoteJob): Offered {
  const pen = job.changes === undefined ? ticketPen : changePen(ticketPen);
  const { visit, draftedAt } = job;
  const id = pen.makeId(draftedAt);
  const number = pen.next('quote');
  const base = { ticketId: visit.ticketId, visitId: visit.id };
  pen.add('quote', {
    ...base,
    id,
    number,
    parentId: job.changes?.quoteId ?? null,
    createdAt: draftedAt,
    createdById: visit.technician.id,
  });
  const first = writeRevision(pen, job, id, 1, draftedAt);
  pen.note(draftedAt, visit.technician, {
    event: 'quote.drafted',
    subject: { kind: 'quote', id },
    after: { ...base, number, revision: 1, ...pricedAs(first.quote) },
  });
  return writeLife(pen, job, number, first);
}

/** Writes a change order's rows where they are loaded after what it changes. */
function changePen(pen: Pen): Pen {
  return { ...pen, add: pen.addChange, steps: pen.changeSteps };
}

function writeLife(pen: Pen, job: QuoteJob, quoteNumber: number, first: Drafted): Offered {
  if (job.outcome === 'draft') return { told: undefined, sold: undefined };
  if (!job.isRevised) {
    return writeAnswer(pen, job, writeIssue(pen, job, quoteNumber, first, 'issue'));
  }
  writeIssue(pen, job, quoteNumber, first, 'issue_older');
  const revisedAt = minutesAfter(first.draftedAt, 6);
  const second = writeRevision(pen, job, first.quoteId, 2, revisedAt);
  pen.note(revisedAt, job.visit.technician, {
    event: 'quote.revised',
    subject: { kind: 'quote', id: first.quoteId },
    after: { revision: 2, ...pricedAs(second.quote) },
  });
  move(pen, first, 'supersede', 'superseded', minutesAfter(revisedAt, 2));
  return writeAnswer(pen, job, writeIssue(pen, job, quoteNumber, second, 'issue'));
}

/** A second revision keeps only the first option: the customer asked for less to read. */
function writeRevision(
  pen: Pen,
  job: QuoteJob,
  quoteId: string,
  number: number,
  at: Date,
): Drafted {
  const options = number === 1 ? job.options : job.options.slice(0, 1);
  const { inputs, quote, honest } = priceOf(pen, job, options, at);
  const revisionId = pen.makeId(at);
  pen.add('quote_revision', {
    id: revisionId,
    quoteId,
    number,
    language: 'en',
    inputs: JSON.stringify(inputs),
    rulesetVersion: currentPricingRuleset.version,
    priceBookVersionId: bookAt(pen.plan.books, at).id,
    laborRateCents: quote.laborRateCents,
    declineTotalCents: quote.decline.totalCents,
    optionCount: quote.options.length,
    createdAt: at,
    createdById: job.visit.technician.id,
  });
  const rows = quote.options.map((option, position) => {
    const optionId = pen.makeId(at);
    pen.add('quote_option', optionRow(optionId, revisionId, option, position));
    const lines = linesOf(optionId, option, inputs.options[position]?.work ?? []);
    for (const { why, ...row } of lines)
      pen.add('quote_line', { ...row, why: JSON.stringify(why) });
    return { optionId, lines };
  });
  pen.add('quote_state', { quoteId, revision: number, state: 'draft', changedAt: at });
  const [first] = rows;
  if (first === undefined) throw new Error('a quote has an option');
  const { optionId: firstOptionId, lines } = first;
  const priced = { inputs, quote, honest: honest && firstOf(firstOptionId, honest) };
  return { quoteId, revisionId, number, ...priced, firstOptionId, lines, draftedAt: at };
}

interface Priced {
  inputs: PricingInputs;
  quote: PricedQuote;
}

/** The engine's own price; or the one it gives for bent inputs, where that comes to more. */
function priceOf(
  pen: Pen,
  job: QuoteJob,
  options: QuoteJob['options'],
  at: Date,
): Priced & { honest: Priced | undefined } {
  const computed = pricingInputsOf(pen.plan, job, options, at);
  const inputs = job.adjust === undefined ? computed : job.adjust(computed);
  const honest = { inputs, quote: price(inputs) };
  const { bendPrice, keepsInputs = false } = job.wrong ?? {};
  if (bendPrice === undefined) return { ...honest, honest: undefined };
  const { feeCents } = job.terms;
  const { periods } = bookAt(pen.plan.books, at);
  const by = { random: pen.random, makeId: pen.makeId, at, feeCents, periods };
  const bent = bendPrice(inputs, by);
  const quote = price(bent);
  const isDearer =
    totalOf(quote) > totalOf(honest.quote) || job.wrong?.acts?.billsFeeApart === true;
  if (!isDearer) return { ...honest, honest: undefined };
  return { inputs: keepsInputs ? inputs : bent, quote, honest };
}

function price(inputs: PricingInputs): PricedQuote {
  const result = currentPricingRuleset.priceQuote(inputs);
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result.refusals));
  return result.quote;
}

function totalOf({ options }: PricedQuote): number {
  return options[0]?.totalCents ?? 0;
}

function linesOf(optionId: string, option: PricedOption, work: readonly WorkItem[]): SoldLine[] {
  return option.lines.map((line) => lineRow(optionId, line, work));
}

function firstOf(optionId: string, { inputs, quote }: Priced): PricedFirst {
  const [option] = quote.options;
  if (option === undefined) throw new Error('a quote has an option');
  return { inputs, lines: linesOf(optionId, option, inputs.options[0]?.work ?? []) };
}

function writeIssue(
  pen: Pen,
  job: QuoteJob,
  quoteNumber: number,
  drafted: Drafted,
  step: 'issue_older' | 'issue',
): Issued {
  const { plan } = pen;
  const { quoteId, number: revision, inputs, quote } = drafted;
  const issuedAt = minutesAfter(drafted.draftedAt, 2);
  const { quoteValidityDays } = inputs.policy;
  const validUntil = endOfLocalDay(issuedAt, quoteValidityDays, plan.company.timeZone);
  const paper = composePaper({
    company: plan.company,
    number: quoteNumber,
    revision,
    issuedAt,
    validUntil,
    inputs,
    quote,
    approver: job.place.approver,
    occupant: job.place.occupant,
    site: { ...job.place, region: plan.company.region },
    equipment: [job.visit.machine.row],
    ...(job.changes && { changes: changesOnPaper(job.changes) }),
    findings: mended(job, inputs).map((finding) => describeFinding(finding, job.observations)),
  });
  const text = canonicalJson(paper);
  const contentHash = sha256(text);
  const issuedById = job.visit.technician.id;
  pen.add('quote_issue', {
    quoteId,
    revision,
    issuedAt,
    issuedById,
    validUntil,
    contentHash,
    paper: text,
  });
  writePaper(pen, job, quoteNumber, issuedAt, { kind: 'quote', revisionId: drafted.revisionId });
  move(pen, drafted, step, 'issued', issuedAt);
  pen.note(issuedAt, job.visit.technician, {
    event: 'quote.issued',
    subject: { kind: 'quote', id: quoteId },
    after: { revision, contentHash, validUntil },
  });
  return { ...drafted, quoteNumber, issuedAt, contentHash };
}

function changesOnPaper({ quoteNumber: number, agreedCents }: Changed) {
  return { number, agreedCents, hasGrown: false };
}

/** A paper is on record with what it tells of; nobody has asked for its file yet. */
function writePaper(
  pen: Pen,
  job: QuoteJob,
  quoteNumber: number,
  issuedAt: Date,
  of: { kind: string; revisionId?: string; acceptanceOf?: string; declineOf?: string },
): void {
  pen.add('paper', {
    id: pen.makeId(issuedAt),
    kind: of.kind,
    number: String(quoteNumber),
    ticketId: job.visit.ticketId,
    revisionId: of.revisionId ?? null,
    acceptanceOf: of.acceptanceOf ?? null,
    declineOf: of.declineOf ?? null,
    invoiceId: null,
    memoId: null,
    closingId: null,
    issuedAt,
    timeZone: of.kind === 'quote' ? null : pen.plan.company.timeZone,
    recordedByName: of.kind === 'quote' ? null : job.visit.technician.name,
  });
}

/** The findings that an option mends, in the order they were found, as the paper has them. */
function mended({ findings }: QuoteJob, inputs: PricingInputs): WholeFinding[] {
  const ids = new Set(inputs.options.flatMap(({ work }) => work.map(({ findingId }) => findingId)));
  return findings.filter(({ id }) => ids.has(id));
}

function writeAnswer(pen: Pen, job: QuoteJob, issued: Issued): Offered {
  const at = minutesAfter(issued.issuedAt, 4);
  const told = issued.inputs;
  if (job.outcome === 'accepted') return { told, sold: writeAcceptance(pen, job, issued, at) };
  if (job.outcome === 'declined') writeDecline(pen, job, issued, at);
  else if (job.outcome === 'withdrawn') writeWithdrawal(pen, job, issued, at);
  return { told, sold: undefined };
}

function writeAcceptance(pen: Pen, job: QuoteJob, issued: Issued, acceptedAt: Date): Sold {
  const { quoteId, number: revision, contentHash, firstOptionId: optionId } = issued;
  const totalCents = issued.quote.options[0]?.totalCents ?? 0;
  pen.add('quote_acceptance', {
    quoteId,
    revision,
    optionId,
    totalCents,
    contentHash,
    acceptedByName: job.place.approver.name,
    consentText: 'I accept this option at this total.',
    acceptedAt,
    recordedById: job.visit.technician.id,
  });
  writePaper(pen, job, issued.quoteNumber, acceptedAt, {
    kind: 'acceptance',
    acceptanceOf: quoteId,
  });
  move(pen, issued, 'answer', 'accepted', acceptedAt);
  pen.note(acceptedAt, job.visit.technician, {
    event: 'quote.accepted',
    subject: { kind: 'quote', id: quoteId },
    after: { revision, optionId, totalCents, contentHash },
  });
  const { inputs, lines, honest, quoteNumber } = issued;
  const { version: rulesetVersion } = currentPricingRuleset;
  return { quoteId, quoteNumber, optionId, inputs, lines, rulesetVersion, acceptedAt, honest };
}

function writeDecline(pen: Pen, job: QuoteJob, issued: Issued, declinedAt: Date): void {
  const { quoteId, number: revision } = issued;
  pen.add('quote_decline', {
    quoteId,
    revision,
    declinedByName: job.place.approver.name,
    reason: pen.random.pick(['Wants to think about it.', 'Too dear.', 'Will replace the system.']),
    conditionLeft: 'Switched off at the thermostat.',
    dangerWarned: null,
    declinedAt,
    recordedById: job.visit.technician.id,
  });
  writePaper(pen, job, issued.quoteNumber, declinedAt, { kind: 'decline', declineOf: quoteId });
  move(pen, issued, 'answer', 'declined', declinedAt);
  pen.note(declinedAt, job.visit.technician, {
    event: 'quote.declined',
    subject: { kind: 'quote', id: quoteId },
    after: { revision },
  });
}

function writeWithdrawal(pen: Pen, job: QuoteJob, issued: Issued, at: Date): void {
  move(pen, issued, 'answer', 'withdrawn', at);
  pen.note(at, job.visit.technician, {
    event: 'quote.withdrawn',
    subject: { kind: 'quote', id: issued.quoteId },
    after: { revision: issued.number },
  });
}

function move(
  pen: Pen,
  { quoteId, number: revision }: Drafted,
  step: Pen['steps'][number]['step'],
  state: QuoteState,
  at: Date,
): void {
  pen.steps.push({ step, quoteId, revision, state, at });
}

function pricedAs(quote: PricedQuote) {
  return {
    optionTotalsCents: quote.options.map(({ totalCents }) => totalCents),
    rulesetVersion: currentPricingRuleset.version,
  };
}
