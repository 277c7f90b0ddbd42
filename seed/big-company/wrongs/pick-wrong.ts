import type { CompanyPlan, Member } from '../company-plan.ts';
import type { Random } from '../random.ts';
import type { Scenario } from '../scenarios.ts';
import { turnOf } from '../turns/turn-of.ts';
import type { Turned } from '../turns/turned.ts';
import { hiddenWrongs } from './hidden-wrongs.ts';
import type { Truth } from './truth.ts';
import type { Bendable, Wrong } from './wrong.ts';
import { inventedReadings, wrongs } from './wrongs.ts';

/** A wrong for a visit, with how the visit then goes. */
export interface Picked {
  wrong: Wrong;
  scenario: Scenario;
  turn: Turned | undefined;
}

/** Picks which visits are written wrongly, and how. */
export interface WrongPicker {
  pick(job: Bendable, random: Random): Picked | undefined;
  /** Counts one that took effect: of those that fit a visit, the rarest so far is picked. */
  count(told: Pick<Truth, 'kind' | 'shape'>): void;
}

/**
 * Of a company with wrongs, two technicians do six times as often what everybody does now and then,
 * and one invents readings.
 */
export function wrongPicker({ wrongs: share = 0, technicians }: CompanyPlan): WrongPicker {
  const often = oftenAmong(technicians);
  const inventor = technicians[often.length];
  const counts = new Map<string, number>();
  const weightOf = (member: Member) => (often.includes(member) ? OFTEN : 1);
  const meanWeight =
    technicians.reduce((sum, member) => sum + weightOf(member), 0) / technicians.length;
  const pickOf = (job: Bendable, random: Random): Picked | undefined => {
    if (job.technician === inventor && random.chance(INVENTED_SHARE)) {
      const scenario = inventedReadings.scenarioFor(job);
      if (scenario !== undefined) return { wrong: inventedReadings, scenario, turn: undefined };
    }
    if (!random.chance((share * weightOf(job.technician)) / meanWeight)) return undefined;
    return rarest(job, counts, random);
  };
  return {
    pick: (job, random) => (share === 0 ? undefined : pickOf(job, random)),
    count: (told) => counts.set(nameOf(told), (counts.get(nameOf(told)) ?? 0) + 1),
  };
}

/** Those who do often what everybody does now and then. */
export function oftenAmong(technicians: readonly Member[]): readonly Member[] {
  return technicians.slice(0, technicians.length > 3 ? 2 : 1);
}

const OFTEN = 6;
const INVENTED_SHARE = 0.6;

function nameOf({ kind, shape }: Pick<Truth, 'kind' | 'shape'>): string {
  return shape === undefined ? kind : `${kind} ${shape}`;
}

/** Between two ways to one kind chance decides. */
function rarest(
  job: Bendable,
  counts: ReadonlyMap<string, number>,
  random: Random,
): Picked | undefined {
  let best: { picked: Picked; count: number } | undefined;
  for (const wrong of job.hasTurns ? [...wrongs, ...hiddenWrongs] : wrongs) {
    const scenario = wrong.scenarioFor(job);
    if (scenario === undefined) continue;
    const count = (counts.get(nameOf(wrong)) ?? 0) + random.between(0, 0.9);
    if (best !== undefined && count >= best.count) continue;
    const turn = wrong.turn && turnOf(wrong.turn, job, scenario, random, wrong.wants);
    if (wrong.turn !== undefined && turn === undefined) continue;
    best = { picked: { wrong, scenario, turn }, count };
  }
  return best?.picked;
}
