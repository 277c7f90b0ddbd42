import { comesAgain } from '../history.ts';
import type { Random } from '../random.ts';
import { type Scenario, scenarios } from '../scenarios.ts';
import type { Bendable } from '../wrongs/wrong.ts';
import type { Further, Turned, TurnName } from './turned.ts';

/** What a turn asks of what is found besides; anything when absent. */
export type Wants = (further: Scenario, first: Scenario) => boolean;

/** A visit that goes another way; undefined where it does not lend itself to that. */
export function turnOf(
  name: TurnName,
  job: Bendable,
  scenario: Scenario,
  random: Random,
  wants: Wants = () => true,
): Turned | undefined {
  if (!sells(scenario)) return undefined;
  switch (name) {
    case 'change_order':
      return withFurther(name, furtherOf(job, scenario, random, wants));
    case 'same_trip':
      return isBackByThen(job)
        ? withFurther(name, furtherOf(job, scenario, random, wants))
        : undefined;
    case 'mended_again':
      return isBreakerReset(scenario) && isFresh(job, scenario)
        ? { name, further: { scenario: breakerTripsAgain(scenario), machine: job.outdoor } }
        : undefined;
    case 'two_calls':
      return job.slot.later && job.slot.later.end <= job.present ? { name } : undefined;
    case 'adjusted':
      return isFresh(job, scenario) && !findsReset(scenario) ? { name } : undefined;
    case 'goodwill':
      return isFresh(job, scenario) && scenario.findings.length === 1 ? { name } : undefined;
    case 'tax_put_right':
      return isFresh(job, scenario) ? { name } : undefined;
  }
}

function withFurther(name: TurnName, further: Further | undefined): Turned | undefined {
  return further && { name, further };
}

function sells({ options, findings }: Scenario): boolean {
  return options.length > 0 && findings.length > 0;
}

function isFresh({ known }: Bendable, scenario: Scenario): boolean {
  return !comesAgain(known, scenario);
}

/** The hour after the window is the same technician's, and nobody else's. */
function isBackByThen({ slot, present }: Bendable): boolean {
  return slot.later !== undefined && slot.end.getTime() + HOUR_MS <= present.getTime();
}

const HOUR_MS = 3_600_000;

/** Something else that the same system can have, by no part of what was found at first. */
function furtherOf(
  job: Bendable,
  first: Scenario,
  random: Random,
  wants: Wants,
): Further | undefined {
  const fitting = scenarios.filter(
    (scenario) =>
      sells(scenario) &&
      scenario.override === undefined &&
      scenario.fits?.(job.outdoor.nameplate) !== false &&
      !findsAny(scenario, ['low_charge']) &&
      isFresh(job, scenario) &&
      !isAlike(first, scenario) &&
      wants(scenario, first),
  );
  const [one, ...others] = fitting;
  if (one === undefined) return undefined;
  const scenario = random.pick([one, ...others]);
  return { scenario, machine: scenario.machine === 'indoor' ? job.indoor : job.outdoor };
}

/** A capacitor serves two motors: neither of its sides is found beside the other. */
function isAlike(one: Scenario, other: Scenario): boolean {
  const partsOf = ({ findings }: Scenario) =>
    findings.map(({ fault }) => (fault.startsWith('run_capacitor_') ? 'run_capacitor' : fault));
  return partsOf(one).some((part) => partsOf(other).includes(part));
}

function findsAny({ findings }: Scenario, faults: readonly string[]): boolean {
  return findings.some(({ fault }) => faults.includes(fault));
}

function findsReset(scenario: Scenario): boolean {
  return findsAny(scenario, ['tripped_breaker', 'open_control_fuse', 'open_float_switch']);
}

export function isBreakerReset({ findings }: Scenario): boolean {
  return findings.length === 1 && findings[0]?.fault === 'tripped_breaker';
}

/** It had held for a few minutes; why it does not is looked for. */
function breakerTripsAgain(scenario: Scenario): Scenario {
  return {
    ...scenario,
    findings: [{ fault: 'tripped_breaker', task: () => 'trace_breaker_trip' }],
    options: [{ title: 'Find out why it trips', findings: [0] }],
  };
}
