import type { Facts } from '../facts/admit-evidence.ts';
import { measuredAt } from '../facts/measured.ts';
import { type Minutes, measuredNear } from '../facts/measured-near.ts';
import { supplyLimits } from '../facts/supply-limits.ts';
import { seenSince } from '../verdicts/last-interruption.ts';
import type { Weighed } from '../verdicts/verdict.ts';
import { weighObservation } from '../verdicts/weigh-observation.ts';
import { weighReadsOpen } from '../verdicts/weigh-reads-open.ts';
import { type Condition, weighTogether } from '../verdicts/weigh-together.ts';
import { whenMeasured } from '../verdicts/when-measured.ts';
import { whenObserved } from '../verdicts/when-observed.ts';
import type { ObservationCode } from '../words/observations.ts';
import type { PointCode } from '../words/points.ts';
import type { Section } from './capacitor/weigh-section.ts';
import { whenSectionSound } from './capacitor/when-section-sound.ts';

/** A fan motor: where it is measured and what is seen of it. */
export type FanMotor = {
  /** In a sentence: 'outdoor fan motor'. */
  name: string;
  /**
   * Whether its windings come out to its leads and a run capacitor turns it. Those of an ECM hide
   * behind its electronics, and it may wait for a signal.
   */
  isPsc: boolean;
  running: ObservationCode;
  hums: ObservationCode;
  turnsFreely: ObservationCode;
  windingOpen: ObservationCode;
  lead: PointCode;
  supply: PointCode;
  winding: PointCode;
  /** What says that it is fed where nobody measured it. */
  saidFed?: ObservationCode;
  section: Section;
  fullLoadAmps: number | undefined;
};

/** Below this a motor draws nothing; a clamp shows some hundredths beside a wire. Common practice, no source. */
export const noCurrentAmpsMax = 0.1;

/**
 * The criteria of a failed fan motor. A motor whose overload opened in the heat also stands still
 * while fed, but draws no current: only an open winding measured cold tells that from a failed one.
 */
export function weighFanMotor(facts: Facts, motor: FanMotor): Weighed[] {
  const tooMuch = drawsTooMuch(facts, motor);
  return [
    weighReadsOpen(facts, {
      id: 'winding_open',
      direction: 'for',
      code: motor.windingOpen,
      point: motor.winding,
      running: motor.running,
      weight: motor.isPsc ? 'decisive' : 'indicative',
    }),
    ...(motor.isPsc ? [drawsAndStands(facts, motor)] : []),
    fedAndStands(facts, motor),
    tooMuch,
    runsWithinAmps(facts, motor),
    runs(facts, motor, tooMuch),
  ];
}

/**
 * That the motor has its voltage; a measured one says more than a said one. With `minutes`, that
 * what was measured is of those minutes.
 */
export function whenFed(
  facts: Facts,
  { name, supply, saidFed }: Pick<FanMotor, 'name' | 'supply' | 'saidFed'>,
  minutes?: Minutes,
): Condition {
  const settled =
    minutes === undefined
      ? measuredAt(facts, supply, 'voltage')
      : measuredNear(facts, supply, 'voltage', minutes);
  return settled.kind === 'none' && saidFed !== undefined
    ? whenObserved(facts, saidFed)
    : whenMeasured(settled, `voltage at the ${name}`, 'above', supplyLimits(facts)?.low);
}

/** What it draws and what is seen of it must belong to one run: a sound motor stands unfed, too. */
function drawsAndStands(facts: Facts, motor: FanMotor): Weighed {
  const fed = whenFed(facts, motor);
  const drawing = whenDrawing(facts, motor);
  return weighTogether(
    {
      id: 'draws_current_and_stands',
      statement:
        'Fed, with a sound capacitor and free to turn, the motor draws more than running and stands still.',
      direction: 'for',
      weight: 'decisive',
    },
    whenStanding(facts, motor, [fed, drawing]),
    [fed, whenSectionSound(facts, motor.section), whenObserved(facts, motor.turnsFreely), drawing],
  );
}

/** An ECM has no capacitor to rule out, but it may lack its signal: never more than indicative. */
function fedAndStands(facts: Facts, motor: FanMotor): Weighed {
  const { isPsc } = motor;
  const fed = whenFed(facts, motor);
  const sound = isPsc ? [whenSectionSound(facts, motor.section)] : [];
  return weighTogether(
    {
      id: 'fed_and_stands',
      statement: `The motor is fed${isPsc ? ', its capacitor is sound,' : ''} and it does not run.`,
      direction: 'for',
      weight: 'indicative',
    },
    whenStanding(facts, motor, [fed]),
    [fed, ...sound, ...runsByItsAmps(facts, motor)],
  );
}

function drawsTooMuch(facts: Facts, motor: FanMotor): Weighed {
  const sound = motor.isPsc ? [whenSectionSound(facts, motor.section)] : [];
  return weighTogether(
    {
      id: 'draws_too_much',
      statement: 'Running, the motor draws more than its full-load amps.',
      direction: 'for',
      weight: 'indicative',
    },
    whenCurrent(facts, motor, 'above', motor.fullLoadAmps),
    [whenObserved(facts, motor.running), ...sound],
  );
}

/** That it runs speaks for the motor, unless its current says that it will not for long. */
function runs(facts: Facts, { running }: FanMotor, tooMuch: Weighed): Weighed {
  const weighed = weighObservation(facts, {
    id: 'runs',
    direction: 'against',
    code: running,
    weight: 'indicative',
  });
  if (tooMuch.criterion.outcome !== 'met') return weighed;
  const detail = 'It runs, but it draws too much.';
  return { ...weighed, criterion: { ...weighed.criterion, outcome: 'not_applicable', detail } };
}

function runsWithinAmps(facts: Facts, motor: FanMotor): Weighed {
  return weighTogether(
    {
      id: 'runs_within_amps',
      statement: 'The motor runs and draws no more than its full-load amps.',
      direction: 'against',
      weight: 'decisive',
    },
    whenCurrent(facts, motor, 'below', motor.fullLoadAmps),
    [whenObserved(facts, motor.running), whenCurrent(facts, motor, 'above', noCurrentAmpsMax)],
  );
}

function whenStanding(
  facts: Facts,
  { running, hums }: FanMotor,
  beside: readonly Condition[],
): Condition {
  const stopped = seenSince(facts, running, 'no', beside);
  const humming = seenSince(facts, hums, 'yes', beside);
  return stopped.state === 'unknown' && humming.state === 'holds' ? humming : stopped;
}

/** A motor that stands still under power draws more than it does at its full load; or it hums. */
function whenDrawing(facts: Facts, motor: FanMotor): Condition {
  const some = whenCurrent(facts, motor, 'above', noCurrentAmpsMax);
  if (some.state === 'fails') {
    return { ...some, says: `${some.says} It draws nothing: measure its winding, cold.` };
  }
  const [runs] = runsByItsAmps(facts, motor);
  if (runs !== undefined) return runs;
  const current = whenCurrent(facts, motor, 'above', motor.fullLoadAmps);
  const humming = whenObserved(facts, motor.hums);
  return current.state === 'unknown' && humming.state === 'holds' ? humming : current;
}

/** So much a motor draws that turns its fan: whoever saw it stand saw another moment. */
function runsByItsAmps(facts: Facts, motor: FanMotor): Condition[] {
  const some = whenCurrent(facts, motor, 'above', noCurrentAmpsMax);
  const atMostFull = whenCurrent(facts, motor, 'below', motor.fullLoadAmps);
  if (some.state !== 'holds' || atMostFull.state !== 'holds') return [];
  const says = `${atMostFull.says} So much it draws when it runs: look and measure again.`;
  return [{ ...atMostFull, state: 'unknown', says, readingsDisagree: true }];
}

function whenCurrent(
  facts: Facts,
  { name, lead }: FanMotor,
  side: 'above' | 'below',
  limitAmps: number | undefined,
): Condition {
  const settled = measuredAt(facts, lead, 'current');
  return whenMeasured(settled, `current of the ${name}`, side, limitAmps);
}
