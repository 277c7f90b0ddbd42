import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { refuseOutdated } from '../evidence/index.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { bookInForce, taxRuleFor, toHead } from '../pricebook/index.ts';
import {
  currentPricingRuleset,
  type PricedQuote,
  type PricingInputs,
  pricingInputsSchema,
} from '../pricing/index.ts';
import {
  coveredBy,
  dueBefore,
  evidenceSchema,
  faultCodeSchema,
  remedyClassSchema,
  taskCodeSchema,
  taskWords,
} from '../trade/index.ts';
import { agreementForPrice } from './agreement-for-price.ts';
import type { optionRequestSchema } from './contract.ts';
import { refuseReplacingAlone } from './equipment-rules.ts';
import { isSamePlace, placeOf } from './place-of.ts';
import { refuseSoldWork } from './refuse-sold-work.ts';
import { type QuotePlace, visitTerms } from './visit-terms.ts';
import { whyNoPrice } from './why-no-price.ts';
import { type BookLines, type PricedFinding, workItem } from './work-item.ts';

type OptionRequest = z.output<typeof optionRequestSchema>;

/** A visit with what its price depends on. */
export type PricedVisit = Prisma.VisitGetPayload<{
  include: { ticket: { include: { site: true } }; priceBookVersion: true };
}>;

/** Where a quote stands: its visit with all its price depends on, and what it changes. */
type PlaceOfVisit = QuotePlace & { visit: PricedVisit };

/** An option as it is asked for; whoever prices it anew may say that the owner had adjusted it. */
export interface OptionToPrice extends Omit<OptionRequest, 'adjustments'> {
  adjustments: (OptionRequest['adjustments'][number] & { byOwner?: boolean })[];
}

/** A computed price with everything it was computed from. */
export interface Priced {
  inputs: PricingInputs;
  quote: PricedQuote;
  rulesetVersion: string;
  bookId: string;
}

/**
 * Prices one to three options of findings. The fee is the one agreed to at the call, and so is the
 * least discount on it; everything else follows from the findings, from what was accepted and done
 * before, from the price book in force, and from the tax rule and the maintenance agreement of the
 * site.
 * @throws ProblemError 422 for a finding of another visit, one that carries no price, a price the
 *   rules do not give, work that is sold already, or a new machine without the repair before it; 409 without a price book or tax rule
 */
export async function priceOptions(
  act: ActContext,
  place: PlaceOfVisit,
  options: readonly OptionToPrice[],
): Promise<Priced> {
  const { visit } = place;
  const book = await bookInForce(act.tx, act.now);
  const { timeZone } = await companyOf(act.tx);
  const findings = await findingsById(act, visit.id);
  await refuseOutdated(act.tx, pricedIn(options, findings));
  const catalog = await bookLines(act, book.id, [...findings.values()]);
  const today = localDay(act.now, timeZone);
  const terms = await visitTerms(act.tx, place, today);
  const agreement = await agreementForPrice(act.tx, visit, today, act.now);
  const inputs = pricingInputsSchema.parse({
    rates: book.rates,
    tiers: book.tiers,
    policy: book.policy,
    period: periodOf(visit),
    visitFee: terms.visitFee,
    tax: await taxRuleFor(act.tx, visit.ticket.site.jurisdiction, act.now, timeZone),
    ...(agreement && { agreement }),
    ...(terms.earlierWork && { earlierWork: terms.earlierWork }),
    options: options.map((option, at) => ({
      title: titleOf(option, findings),
      work: oncePerWork(chosenFindings(option, findings, `/options/${at}`), `/options/${at}`).map(
        ([finding, ...also]) => workItem(finding, also, catalog, today, terms.recalled),
      ),
      adjustments: option.adjustments.map((adjustment) => ({
        byOwner: act.actor.role === 'owner',
        ...adjustment,
      })),
    })),
  });
  refuseReplacingAlone(
    options.map(({ findingIds }) => findingIds.flatMap((id) => findings.get(id) ?? [])),
  );
  await refuseSoldWork(
    act.tx,
    place,
    options.flatMap(({ findingIds }) => findingIds),
  );
  return { inputs, bookId: book.id, ...price(inputs) };
}

function pricedIn(options: readonly OptionToPrice[], findings: Map<string, PricedFinding>) {
  const ids = new Set(options.flatMap((option) => option.findingIds));
  return [...findings.values()].filter(({ id, priceable }) => priceable && ids.has(id));
}

function price(inputs: PricingInputs): Pick<Priced, 'quote' | 'rulesetVersion'> {
  const result = currentPricingRuleset.priceQuote(inputs);
  if (result.outcome === 'refused') {
    throw new ProblemError(
      'price-refused',
      result.refusals.map((refusal) => refusal.message).join(' '),
      {
        errors: result.refusals.map(({ pointer, code, message }) => ({
          in: 'body' as const,
          pointer,
          code,
          message,
        })),
      },
    );
  }
  refuseUnstorable(result.quote);
  return { quote: result.quote, rulesetVersion: currentPricingRuleset.version };
}

// Amounts are stored in 32 bits: more than twenty million dollars is a typing mistake.
function refuseUnstorable(quote: PricedQuote): void {
  const amounts = quote.options.flatMap((option) => [
    option.totalCents,
    ...option.lines.map((line) => line.amountCents),
  ]);
  if (amounts.every((amount) => Math.abs(amount) <= 2_000_000_000)) return;
  throw new ProblemError('price-refused', 'An amount is larger than twenty million dollars.');
}

/** The period of the window agreed to at the call, by the price book that was in force then. */
function periodOf(visit: PricedVisit) {
  const { periods } = toHead(visit.priceBookVersion);
  const period = periods.find(({ code }) => code === visit.periodCode);
  if (period === undefined) throw new Error('a visit names a period of its own price book');
  return { code: period.code, laborFactor: period.laborFactor };
}

async function findingsById(act: ActContext, visitId: string): Promise<Map<string, PricedFinding>> {
  const rows = await act.tx.finding.findMany({
    where: { visitId },
    include: {
      parts: true,
      override: true,
      equipment: {
        select: { systemId: true, partsWarrantyUntil: true, compressorWarrantyUntil: true },
      },
    },
  });
  return new Map(rows.map((row) => [row.id, row]));
}

function chosenFindings(
  { findingIds }: OptionToPrice,
  findings: Map<string, PricedFinding>,
  pointer: string,
): PricedFinding[] {
  const chosen = findingIds.map((id, at) => {
    const finding = findings.get(id);
    if (finding === undefined) {
      throw unknownReference(`${pointer}/findingIds/${at}`, 'There is no such finding here.');
    }
    if (findingIds.indexOf(id) !== at) throw findingTwice(`${pointer}/findingIds/${at}`);
    return finding;
  });
  for (const [at, finding] of chosen.entries()) {
    refuseUnproven(finding, `${pointer}/findingIds/${at}`);
  }
  return chosen;
}

function findingTwice(pointer: string): ProblemError {
  const message = 'This finding stands twice in one option; it is remedied once.';
  return new ProblemError('price-refused', message, {
    errors: [{ in: 'body', pointer, code: 'duplicate_finding', message }],
  });
}

function refuseUnproven(finding: PricedFinding, pointer: string): void {
  if (finding.priceable || finding.override !== null) return;
  const due = dueBefore(
    faultCodeSchema.parse(finding.faultCode),
    remedyClassSchema.parse(finding.remedyClass),
    evidenceSchema.parse(finding.evidence),
  );
  const message = whyNoPrice(finding, due);
  throw new ProblemError('evidence-missing', message, {
    findingId: finding.id,
    standing: finding.standing,
    exclusionsMissing: due,
    errors: [{ in: 'body', pointer, code: 'evidence_missing', message }],
  });
}

type SameWork = [PricedFinding, ...PricedFinding[]];

/**
 * Findings that one piece of work mends, together: both sections of a dual capacitor may have
 * failed, and there is one can to replace. In the order of their ids, so that the lines have the
 * same keys in whatever order the findings were chosen.
 */
function oncePerWork(chosen: PricedFinding[], pointer: string): SameWork[] {
  const byWork = new Map<string, SameWork>();
  for (const finding of chosen.toSorted((a, b) => (a.id < b.id ? -1 : 1))) {
    const work = `${placeOf(finding)} ${finding.taskCode}`;
    const known = byWork.get(work);
    if (known === undefined) byWork.set(work, [finding]);
    else if (partsOf(known[0]) === partsOf(finding)) known.push(finding);
    else throw sameWorkTwice(pointer, SAME_WORK_OTHER_PARTS);
  }
  refuseCovered(chosen, pointer);
  return [...byWork.values()];
}

function partsOf({ parts }: PricedFinding): string {
  return parts
    .map(({ partCode, quantity, measured }) => `${partCode} ${quantity ?? measured?.toFixed()}`)
    .sort()
    .join();
}

/**
 * A dual capacitor holds both sections, and a renewed charge needs nothing added: neither is sold
 * beside the other.
 */
function refuseCovered(chosen: PricedFinding[], pointer: string): void {
  for (const one of chosen) {
    const covered = coveredBy(taskCodeSchema.parse(one.taskCode));
    const beside = chosen.some(
      (other) => covered.includes(other.taskCode) && isSamePlace(one, other),
    );
    if (beside) throw sameWorkTwice(pointer, WORK_COVERED);
  }
}

const SAME_WORK_OTHER_PARTS =
  'Two findings ask for the same work on the same equipment with other parts.';
const WORK_COVERED = 'One task of this option already covers another on the same equipment.';

function sameWorkTwice(pointer: string, message: string): ProblemError {
  return new ProblemError('price-refused', message, {
    errors: [{ in: 'body', pointer: `${pointer}/findingIds`, code: 'same_work_twice', message }],
  });
}

/** What only resets is called a reset, whatever somebody would rather have it called. */
function titleOf(option: OptionToPrice, findings: Map<string, PricedFinding>): string {
  const chosen = option.findingIds.map((id) => findings.get(id));
  const resets = chosen.filter((finding) => finding?.remedyClass === 'reset');
  if (resets.length === 0 || resets.length < chosen.length) return option.title;
  const names = resets.map((finding) => taskWords[taskCodeSchema.parse(finding?.taskCode)].name);
  return [...new Set(names)].join('; ');
}

async function bookLines(
  act: ActContext,
  versionId: string,
  findings: PricedFinding[],
): Promise<BookLines> {
  const taskCodes = findings.map((finding) => finding.taskCode);
  const partCodes = findings.flatMap((finding) => finding.parts.map((part) => part.partCode));
  const tasks = await act.tx.priceBookTask.findMany({
    where: { versionId, code: { in: taskCodes } },
  });
  const parts = await act.tx.priceBookPart.findMany({
    where: { versionId, code: { in: partCodes } },
  });
  return {
    tasks: new Map(tasks.map((task) => [task.code, task])),
    parts: new Map(parts.map((part) => [part.code, part])),
  };
}
