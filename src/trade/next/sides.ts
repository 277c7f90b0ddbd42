import type { Machine } from '../evidence.ts';
import { type Side, sidesOfKind } from '../words/sides-of-kind.ts';

export type { Side } from '../words/sides-of-kind.ts';

/** The machines of each side of a system; one that is both, such as a package unit, stands twice. */
export type Sides = Record<Side, readonly Machine[]> & { isOneMachine: boolean };

export function sidesOf(machines: readonly Machine[]): Sides {
  const outdoor = machines.filter(({ kind }) => sidesOfKind[kind].includes('outdoor'));
  const indoor = machines.filter(({ kind }) => sidesOfKind[kind].includes('indoor'));
  return { outdoor, indoor, isOneMachine: outdoor.some((each) => indoor.includes(each)) };
}

/**
 * On which sides of this system a thing is looked for: what may be on any side, such as a breaker,
 * is there once for each, but only once where one machine is both.
 */
export function placesOf(on: Side | 'any', sides: Sides): Side[] {
  if (on !== 'any') return sides[on].length > 0 ? [on] : [];
  if (sides.isOneMachine) return ['outdoor'];
  return (['outdoor', 'indoor'] as const).filter((side) => sides[side].length > 0);
}
