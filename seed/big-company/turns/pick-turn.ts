import type { Random } from '../random.ts';
import type { Bendable } from '../wrongs/wrong.ts';
import { turnOf } from './turn-of.ts';
import { type Turned, turns } from './turned.ts';

/** An uncommon way for a share of visits; undefined for the others. */
export function pickTurn(job: Bendable, share: number, random: Random): Turned | undefined {
  if (!random.chance(share)) return undefined;
  return turnOf(random.pick(turns), job, job.scenario, random);
}
