import type { Nameplate } from '../evidence.ts';
import type { Facts } from './admit-evidence.ts';

/**
 * A figure of the nameplate that tells of the whole system: of the machine itself, else of the one
 * other machine that has it. Where two others differ nothing is guessed.
 */
export function plateOf<Field extends keyof Nameplate>(
  { equipment, system }: Facts,
  field: Field,
): Nameplate[Field] | undefined {
  const own = equipment.nameplate[field];
  if (own !== undefined) return own;
  const others = new Set(
    system.map(({ nameplate }) => nameplate[field]).filter((value) => value !== undefined),
  );
  return others.size === 1 ? [...others][0] : undefined;
}
