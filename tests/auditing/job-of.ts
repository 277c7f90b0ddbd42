import type { JobDocument, JobFacts, JobFinding } from '../../src/auditing/index.ts';
import type { BilledLine } from '../../src/billing/index.ts';
import {
  type Cents,
  cents,
  type Line,
  type OtherBook,
  type PricedOption,
  type PricingInputs,
  priceQuote,
  pricingInputsSchema,
} from '../../src/pricing/index.ts';
import { bookOf } from '../pricing/book-of.ts';
import type { HandInputs, HandOptionInput, HandWork } from '../pricing/oracle/hand-inputs.ts';
import { capacitorWork, contactorWork, workedInvoice } from '../pricing/oracle/hand-worked.ts';

export interface JobWishes {
  /** What was sold; the capacitor of the published invoice where nothing is said. */
  readonly work?: readonly HandWork[];
  readonly adjustments?: HandOptionInput['adjustments'];
  readonly tax?: Partial<HandInputs['tax']>;
  /** Further figures that it was priced from. */
  readonly inputs?: Partial<HandInputs>;
  /** What the price book in force says, where that is not what it was priced from. */
  readonly book?: OtherBook;
}

/**
 * A whole job that nothing is wrong with: one call, one visit, one accepted quote, priced by the real
 * engine and billed line for line. It is the published invoice's capacitor in a place that taxes
 * parts at 8.25 %, with half the visit fee credited:
 *
 *     visit fee                         89.00
 *     capacitor                         55.20
 *     labor, 45 min at 151.00          113.25
 *     credit of the visit fee          -44.50
 *     tax on 55.20                       4.55    4.554
 *                                      217.50
 *
 * A test bends it: `{ ...jobOf(), visits: [...] }`, `withDocument(jobOf(), {...})`, `charging(...)`,
 * `without(jobOf(), 'findings')`.
 */
export function jobOf(wishes: JobWishes = {}): JobFacts {
  const work = [...(wishes.work ?? [capacitor()])];
  const inputs = inputsOf(work, wishes);
  const { lines, stated, taxCents } = optionOf(inputs);
  const document: JobDocument = {
    invoiceId: 'invoice-1',
    position: 1,
    kind: 'accepted',
    title: 'quote 1001',
    quoteId: 'quote-1',
    lines: lines.map((line) => billed(line, work)),
    credited: [],
    taxLeftCents: taxCents,
    taxing: { tax: inputs.tax, stated, work: inputs.options[0]?.work ?? [] },
    price: { inputs, rulesetVersion: 'pricing-1', optionAt: 0 },
    book: wishes.book ?? bookOf(inputs),
    taxInForce: inputs.tax,
    agreed: {
      issuedAt: '2026-05-04T16:00:00Z',
      acceptedAt: '2026-05-04T16:10:00Z',
      acceptedOn: '2026-05-04',
    },
  };
  return {
    ended: 'closed',
    documents: [document],
    findings: work.flatMap(findingsOf),
    visits: [
      {
        id: 'visit-1',
        purpose: 'call',
        state: 'finished',
        sameTripAs: null,
        feeCents: feeOf(inputs),
        arrivedAt: '2026-05-04T15:00:00Z',
        leftAt: '2026-05-04T17:30:00Z',
        technicianId: 'technician-1',
      },
    ],
    work: workOf(work),
    earlierRepairs: [],
    refrigerant: {
      gaugesUsed: false,
      movesRecorded: 0,
      certificates: [{ technicianId: 'technician-1', type: 'II' }],
    },
  };
}

/** The only document of a job that has one. */
export function documentOf(job: JobFacts): JobDocument {
  const [document, another] = job.documents;
  if (document === undefined || another !== undefined) throw new Error('expected one document');
  return document;
}

/** The same job with its only document changed. */
export function withDocument(job: JobFacts, changes: Partial<JobDocument>): JobFacts {
  return { ...job, documents: [{ ...documentOf(job), ...changes }] };
}

/** The same job with its only document's charges at other amounts, nothing else touched. */
export function charging(job: JobFacts, amounts: Readonly<Record<string, number>>): JobFacts {
  const { lines } = documentOf(job);
  for (const key of Object.keys(amounts)) {
    if (!lines.some((line) => line.key === key)) throw new Error(`no line ${key}`);
  }
  return withDocument(job, {
    lines: lines.map((line) => ({
      ...line,
      amountCents: cents(amounts[line.key] ?? line.amountCents),
    })),
  });
}

/** The same without some of what is known. */
export function without<Whole extends object, Key extends keyof Whole>(
  whole: Whole,
  ...keys: readonly Key[]
): Omit<Whole, Key> {
  const known = Object.entries(whole).filter(([key]) => !keys.some((gone) => gone === key));
  return Object.fromEntries(known) as Omit<Whole, Key>;
}

/** The job with one thing that is known of its only document taken away. */
export function withoutOfDocument(job: JobFacts, ...keys: readonly OptionalOfDocument[]): JobFacts {
  return { ...job, documents: [without(documentOf(job), ...keys)] };
}
type OptionalOfDocument = 'taxing' | 'price' | 'book' | 'taxInForce' | 'agreed';

/** What jobs are priced from, read as the shell reads it. */
export function inputsOf(work: readonly HandWork[], wishes: JobWishes = {}): PricingInputs {
  const invoice = workedInvoice({ rate: '0.0825', taxableClasses: ['part'], ...wishes.tax });
  return pricingInputsSchema.parse({
    ...invoice,
    policy: { ...invoice.policy, visitFeeCreditShare: '0.5' },
    options: [{ title: 'Repair', work: work.map(classed), adjustments: wishes.adjustments ?? [] }],
    ...wishes.inputs,
  });
}

/** As the price book classes its parts and goods for the tax. */
function classed({ parts, goods, ...work }: HandWork): HandWork {
  return {
    ...work,
    parts: parts.map((part) => ({ taxClass: 'part', ...part })),
    ...(goods && { goods: goods.map((good) => ({ taxClass: 'part' as const, ...good })) }),
  };
}

/** The published invoice's capacitor, as our catalog names fault and task. */
export function capacitor(changes: Partial<HandWork> = {}): HandWork {
  return capacitorWork({
    faultCode: 'run_capacitor_herm',
    taskCode: 'replace_dual_run_capacitor',
    taskName: 'Replace the dual run capacitor',
    ...changes,
  });
}

/** Its second task, the contactor. */
export function contactor(changes: Partial<HandWork> = {}): HandWork {
  return contactorWork({ faultCode: 'worn_contactor', ...changes });
}

/** A breaker put back on: the fee and nothing else. */
export function breakerReset(changes: Partial<HandWork> = {}): HandWork {
  return {
    findingId: 'finding-breaker',
    faultCode: 'tripped_breaker',
    taskCode: 'reset_breaker',
    taskName: 'Reset the breaker',
    remedyClass: 'reset',
    systemId: 'system-1',
    minutes: 10,
    accessGroup: 'electrical_panel',
    accessMinutes: 15,
    parts: [],
    recall: false,
    ...changes,
  };
}

/** A float switch let down again. */
export function floatReset(changes: Partial<HandWork> = {}): HandWork {
  return breakerReset({
    findingId: 'finding-float',
    faultCode: 'open_float_switch',
    taskCode: 'reset_float_switch',
    taskName: 'Reset the float switch',
    accessGroup: 'air_handler',
    ...changes,
  });
}

/** The drain behind it, which is work. */
export function drainCleared(changes: Partial<HandWork> = {}): HandWork {
  return floatReset({
    findingId: 'finding-drain',
    faultCode: 'plugged_drain',
    taskCode: 'clear_condensate_drain',
    taskName: 'Clear the condensate drain',
    remedyClass: 'clean',
    minutes: 30,
    ...changes,
  });
}

/** Keys of the charges of work, so that a row of a table reads as the bill does. */
export function keysOf({ findingId, taskCode, systemId, accessGroup, parts }: HandWork) {
  return {
    labor: `labor:${findingId}:${taskCode}`,
    access: `access:${systemId}:${accessGroup}`,
    part: `part:${findingId}:${taskCode}:${parts[0]?.code ?? ''}`,
  };
}

/** The first option by the real engine. */
export function optionOf(inputs: PricingInputs): PricedOption {
  const result = priceQuote(inputs);
  const [option] = result.outcome === 'priced' ? result.quote.options : [];
  if (option === undefined) throw new Error(`the job cannot be priced: ${JSON.stringify(result)}`);
  return option;
}

/** A line as it is stored, with every finding that its work mends. */
function billed(line: Line, work: readonly HandWork[]): BilledLine {
  const named =
    'findingIds' in line ? line.findingIds : 'findingId' in line ? [line.findingId] : [];
  return {
    key: line.key,
    kind: line.kind,
    priceClass: line.class,
    description: line.description,
    aimedAt: 'aimedAt' in line ? line.aimedAt : null,
    findingIds: named.flatMap((id) => [
      id,
      ...(work.find(({ findingId }) => findingId === id)?.alsoFindingIds ?? []),
    ]),
    amountCents: line.amountCents,
  };
}

function findingsOf(work: HandWork): JobFinding[] {
  return [work.findingId, ...(work.alsoFindingIds ?? [])].map((id) => ({
    id,
    visitId: 'visit-1',
    systemId: work.systemId,
    faultCode: work.faultCode,
    taskCode: work.taskCode,
    remedyClass: work.remedyClass,
    standing: 'proven',
    priceable: true,
    isOverridden: false,
    foundAt: '2026-05-04T15:30:00Z',
    foundOn: '2026-05-04',
    lastReadingAt: '2026-05-04T15:25:00Z',
    ...(work.remedyClass === 'reset' && { causeLookedFor: true }),
    parts: [
      ...work.parts.map(({ code, underManufacturerWarranty }) => ({
        code,
        category: code,
        warrantedUntil: underManufacturerWarranty ? '2030-05-04' : null,
      })),
      ...(work.goods ?? []).map(({ code }) => ({ code, category: code, warrantedUntil: null })),
    ],
  }));
}

function workOf(work: readonly HandWork[]): NonNullable<JobFacts['work']> {
  const recordedAt = '2026-05-04T17:00:00Z';
  return {
    outcomes: work.flatMap(({ findingId, alsoFindingIds = [] }) =>
      [findingId, ...alsoFindingIds].map((id) => ({
        quoteId: 'quote-1',
        findingId: id,
        outcome: 'done' as const,
        recordedAt,
      })),
    ),
    uses: work.flatMap(({ findingId, parts, goods = [] }) =>
      [...parts, ...goods].map(({ code, quantity }) => ({
        quoteId: 'quote-1',
        findingId,
        partCode: code,
        quantity: String(quantity),
        recordedAt,
      })),
    ),
  };
}

function feeOf({ visitFee }: PricingInputs): Cents {
  return visitFee.chargeable ? visitFee.amountCents : cents(0);
}
