import {
  assessSystem,
  commonPriors,
  findFault,
  type Machine,
  mayBeSeenOn,
  type Observation,
  type ObservationCode,
} from '../trade/index.ts';
import { inFives } from './in-fives.ts';

/** What is known of a call before anybody was there. */
export interface CallToEstimate {
  /** The machines of the site, system by system. */
  readonly systems: readonly (readonly Machine[])[];
  readonly symptoms: readonly string[];
  /** What was said on the phone of things that can be seen. */
  readonly reported: readonly { readonly code: ObservationCode; readonly answer: 'yes' | 'no' }[];
}

/** How long work takes, by the price book and the policy. */
export interface BookMinutes {
  /** To look for the cause. */
  readonly causeSearchMinutes: number;
  /** Of a task with its way in; undefined for one that the book does not have. */
  minutesOf(task: string): number | undefined;
  /** Of a call of which nothing else tells how long it takes. */
  readonly usualMinutes: number;
}

/** An estimate, and what it rests on. */
export interface LikelyMinutes {
  readonly minutes: number;
  readonly basis: 'likely_tasks' | 'usual';
  readonly says: string;
}

/**
 * How long a call will take: to look for the cause, and the first task of each fault that may be
 * behind it, by how likely that fault is. What the catalog does not know takes as long as is usual.
 * Rounded up to five minutes: no estimate is better than that.
 */
export function likelyMinutes(call: CallToEstimate, book: BookMinutes): LikelyMinutes {
  const seen = assumed(call);
  const systems = call.systems.filter((machines) => machines.some(isOfCatalog));
  if (!tellsOfCooling(call) || systems.length === 0) {
    const minutes = inFives(book.usualMinutes);
    return { minutes, basis: 'usual', says: `${minutes} minutes, as is usual for a call.` };
  }
  const estimates = systems.map((machines) => estimate(machines, seen, book));
  const mean = estimates.reduce((sum, each) => sum + each.minutes, 0) / estimates.length;
  const minutes = inFives(mean);
  const names = estimates[0]?.likeliest.join(', ') ?? '';
  return {
    minutes,
    basis: 'likely_tasks',
    says:
      `${minutes} minutes: ${book.causeSearchMinutes} to look for the cause, the rest for what is ` +
      `likely behind it, first of all ${names}.`,
  };
}

/** The catalog of faults is one of calls for cooling. */
function tellsOfCooling({ symptoms, reported }: CallToEstimate): boolean {
  return symptoms.some((each) => ofCooling.has(each)) || reported.length > 0;
}

const ofCooling: ReadonlySet<string> = new Set([
  'no_cooling',
  'weak_cooling',
  'no_power',
  'no_airflow',
  'weak_airflow',
  'water_leak',
  'ice',
  'breaker_trips',
  'short_cycling',
  'never_stops',
  'thermostat_blank',
]);

function isOfCatalog({ kind }: Machine): boolean {
  return kind !== 'thermostat';
}

/** What a coded complaint says of things that can be seen. */
const saidBy: Readonly<Record<string, CallToEstimate['reported'][number]>> = {
  thermostat_blank: { code: 'thermostat_screen_blank', answer: 'yes' },
  no_airflow: { code: 'indoor_fan_running', answer: 'no' },
  ice: { code: 'ice_on_coil_or_line', answer: 'yes' },
  water_leak: { code: 'drain_pan_full', answer: 'yes' },
  breaker_trips: { code: 'breaker_found_tripped', answer: 'yes' },
};

function assumed({ symptoms, reported }: CallToEstimate): CallToEstimate['reported'] {
  const bySymptom = symptoms.flatMap((each) => saidBy[each] ?? []);
  const told = new Set(reported.map(({ code }) => code));
  return [...reported, ...bySymptom.filter(({ code }) => !told.has(code))];
}

interface Estimate {
  minutes: number;
  likeliest: string[];
}

function estimate(
  machines: readonly Machine[],
  seen: CallToEstimate['reported'],
  book: BookMinutes,
): Estimate {
  const { causeSearchMinutes, usualMinutes } = book;
  const observations = seen.flatMap(({ code, answer }) => asIfSeen(machines, code, answer));
  const system = { machines: [...machines], readings: [], observations };
  const { suspects } = assessSystem(system, commonPriors).advice;
  const shares = suspects.reduce((sum, { share }) => sum + share, 0);
  const afterSearch = Math.max(0, usualMinutes - causeSearchMinutes);
  const work = suspects.reduce((sum, { faultCode, share }) => {
    const task = faultCode === null ? undefined : findFault(faultCode)?.remedies[0]?.task;
    const minutes = task === undefined ? undefined : book.minutesOf(task);
    return sum + share * (minutes ?? afterSearch);
  }, 0);
  const likeliest = suspects.filter(({ faultCode }) => faultCode !== null).slice(0, 3);
  return {
    minutes: causeSearchMinutes + work / shares,
    likeliest: likeliest.map(({ name, share }) => `${name} (${Math.round(share * 100)} %)`),
  };
}

/**
 * What a caller said, as if a technician had seen it: no verdict and no price ever comes of it, only
 * room on a day.
 */
function asIfSeen(
  machines: readonly Machine[],
  code: ObservationCode,
  answer: 'yes' | 'no',
): Observation[] {
  return machines
    .filter(({ kind }) => mayBeSeenOn(code, kind))
    .map(({ id }) => ({
      id: `${code} ${id}`,
      equipmentId: id,
      ...{ code, answer },
      ...{ source: 'observed', phase: 'found', at: '2000-01-01T00:00:00Z' },
    }));
}
