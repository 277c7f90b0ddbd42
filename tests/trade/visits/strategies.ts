import { fixedChecklist } from '../../../seed/visits/fixed-checklist.ts';
import {
  assessSystem,
  type CheckCode,
  checkWords,
  commonPriors,
  type Machine,
} from '../../../src/trade/index.ts';
import type { Step, Strategy } from './play-visit.ts';

/** Always the first of the checks advised. */
export const byAdvice: Strategy = (evidence, done) => {
  const next = assessSystem(evidence, commonPriors).advice.nextChecks.find(
    ({ code, equipmentId }) => !done.some((each) => isSame(each, { code, equipmentId })),
  );
  return next === undefined ? undefined : { code: next.code, equipmentId: next.equipmentId };
};

/** The same list on every call, whatever comes out. */
export const byChecklist: Strategy = (evidence, done) =>
  stepsOf(fixedChecklist, evidence.machines).find(
    (step) => !done.some((each) => isSame(each, step)),
  );

/** Any order, the same for the same seed. */
export function inRandomOrder(seed: number): Strategy {
  let order: Step[] | undefined;
  return (evidence, done) => {
    order ??= shuffled(stepsOf(fixedChecklist, evidence.machines), seed);
    return order.find((step) => !done.some((each) => isSame(each, step)));
  };
}

const outdoorKinds = new Set(['condensing_unit', 'heat_pump', 'package_unit', 'mini_split']);
const indoorKinds = new Set([
  'air_handler',
  'evaporator_coil',
  'furnace',
  'package_unit',
  'mini_split',
]);

/** Each check once for each side of the system that it can be made on. */
function stepsOf(codes: readonly CheckCode[], machines: readonly Machine[]): Step[] {
  const outdoor = machines.find(({ kind }) => outdoorKinds.has(kind));
  const indoor = machines.find(({ kind }) => indoorKinds.has(kind));
  return codes.flatMap((code) => {
    const { on } = checkWords[code];
    const places = [on === 'indoor' ? undefined : outdoor, on === 'outdoor' ? undefined : indoor];
    const ids = places.flatMap((machine) => (machine === undefined ? [] : [machine.id]));
    return [...new Set(ids)].map((equipmentId) => ({ code, equipmentId }));
  });
}

/** Checks of one side record the same, whichever of its machines they are noted on. */
function isSame(a: Step, b: Step): boolean {
  return a.code === b.code && a.equipmentId === b.equipmentId;
}

/** Fisher and Yates, by a linear congruential generator (Numerical Recipes' constants). */
function shuffled(steps: readonly Step[], seed: number): Step[] {
  const order = [...steps];
  let state = seed >>> 0;
  for (let last = order.length - 1; last > 0; last -= 1) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    const pick = Math.floor((state / 2 ** 32) * (last + 1));
    const [a, b] = [order[last], order[pick]];
    if (a !== undefined && b !== undefined) [order[last], order[pick]] = [b, a];
  }
  return order;
}
