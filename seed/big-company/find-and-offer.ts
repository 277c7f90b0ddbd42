import { localDay } from '../../src/company/index.ts';
import type { WholeFinding } from '../../src/evidence/index.ts';
import { recalledFaults } from './history.ts';
import type { Job } from './job.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import type { VisitTerms } from './pricing-inputs-of.ts';
import type { Scenario } from './scenarios.ts';
import { adjustOfTurn } from './turns/adjust-of-turn.ts';
import { bendOfTurn } from './turns/bend-of-turn.ts';
import { type FieldVisit, type Recorded, recordEvidence, writeFindings } from './write-evidence.ts';
import {
  type Changed,
  type Offered,
  type QuoteJob,
  type QuoteOutcome,
  writeQuote,
} from './write-quote.ts';
import { inventReadings } from './wrongs/invent-readings.ts';
import { actsOn, type Wronged } from './wrongs/wrong.ts';

/** A trip as it stands once the quote is answered. */
export interface Trip {
  visit: FieldVisit;
  terms: VisitTerms;
  arrivedAt: Date;
  scenario: Scenario;
  of: Wronged;
  found: Recorded;
  findings: readonly WholeFinding[];
  recalled: ReadonlySet<string>;
  outcome: QuoteOutcome | undefined;
  offered: Offered;
}

/** When things happen at a visit, in minutes after the arrival. */
export interface VisitMinutes {
  read: number;
  find: number;
  draft: number;
  work: number;
  leave: number;
  end: number;
}

export const usualMinutes: VisitMinutes = {
  ...{ read: 6, find: 24, draft: 30, work: 70, leave: 78, end: 90 },
};

/** What is looked for, where and when. */
export interface Offering {
  visit: FieldVisit;
  terms: VisitTerms;
  arrivedAt: Date;
  purpose: 'call' | 'callback';
  minutes: VisitMinutes;
  scenario: Scenario;
  /** Whether it is what the ticket was opened for, something else, or what came back. */
  of: Wronged;
  /** The faults by which our own work came back, where the history does not say. */
  recalled?: ReadonlySet<string>;
  changes?: Changed;
}

/** What was found at a trip, and what was offered and answered there. */
export function findAndOffer(pen: Pen, job: Job, offering: Offering): Trip {
  const { visit, terms, arrivedAt, purpose, minutes, scenario, of, changes } = offering;
  const acts = actsOn(job.wrong, of);
  const record = acts.inventsReadings ? inventReadings : scenario.record;
  const readFrom = minutesAfter(arrivedAt, acts.readsLate ? 45 : minutes.read);
  const found = recordEvidence(pen, visit, 'found', readFrom, record);
  const foundAt = minutesAfter(arrivedAt, minutes.find);
  const findings = writeFindings(pen, visit, found, scenario, foundAt, acts);
  const recalled = offering.recalled ?? recalledOf(pen, offering);
  const outcome = outcomeOf(pen, job, offering);
  const trip = { visit, terms, arrivedAt, scenario, of, found, findings, recalled, outcome };
  if (outcome === undefined) return { ...trip, offered: { told: undefined, sold: undefined } };
  const offered = writeQuote(pen, {
    ...{ visit, terms, place: job.place, findings, observations: found.observations, recalled },
    ...{ options: scenario.options, outcome, purpose, changes },
    wrong: bendOf(job, of),
    adjust: of === 'first' ? adjustOfTurn(pen, job) : undefined,
    isRevised: of !== 'further' && outcome !== 'draft' && pen.random.chance(0.06),
    draftedAt: minutesAfter(arrivedAt, minutes.draft),
  });
  return { ...trip, offered };
}

function bendOf(job: Job, of: Wronged): QuoteJob['wrong'] {
  const { wrong } = job;
  if (wrong === undefined) return bendOfTurn(job, of);
  return (wrong.on ?? 'first') === of ? wrong : undefined;
}

function recalledOf(pen: Pen, { visit, arrivedAt, scenario }: Offering): ReadonlySet<string> {
  const day = localDay(arrivedAt, pen.plan.company.timeZone);
  const known = pen.history.of(visit.machine.row.systemId);
  const back = recalledFaults(known, { arrivedAt, day });
  return new Set(scenario.findings.flatMap(({ fault }) => (back.has(fault) ? fault : [])));
}

/** Undefined where there is nothing to quote. */
function outcomeOf(
  pen: Pen,
  { wrong, turn }: Job,
  { scenario: { findings, options }, purpose, of }: Offering,
): QuoteOutcome | undefined {
  if (options.length === 0) return undefined;
  const draw = pen.random.between(0, 100);
  if (turn?.name === 'two_calls' && of === 'first') return 'declined';
  const isAgreed = purpose === 'callback' || wrong !== undefined || turn !== undefined;
  // Who only owes the fee says yes, and so does who owes nothing.
  if (isAgreed || findings.length === 0 || draw < 72) return 'accepted';
  if (draw < 86) return 'declined';
  if (draw < 96) return 'unanswered';
  return draw < 98 ? 'withdrawn' : 'draft';
}
