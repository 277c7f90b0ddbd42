import type { Nameplate } from '../evidence.ts';
import { convertUnit } from '../words/convert-unit.ts';

/**
 * Why this much refrigerant cannot be meant for a system with this nameplate, in a plain sentence;
 * undefined when it can. More than twice the factory charge is a slip of the decimal point: 25 for
 * 2.5. Common practice, no source. Without a factory charge on record nothing is refused.
 * @param weight as typed, in pounds or ounces
 */
export function weightRefusal(
  { factoryChargeOz }: Nameplate,
  { weight, unit }: { weight: number; unit: '[lb_av]' | '[oz_av]' },
): string | undefined {
  if (factoryChargeOz === undefined) return undefined;
  const mostOz = TIMES_FACTORY_CHARGE * factoryChargeOz;
  const most = convertUnit(mostOz, '[oz_av]', unit);
  if (most === undefined || weight <= most) return undefined;
  const factory = `${factoryChargeOz} oz`;
  const typed = `${weight} ${unit === '[lb_av]' ? 'lb' : 'oz'}`;
  return `${typed} is more than twice the factory charge of ${factory} on the nameplate: check the decimal point and the unit.`;
}

const TIMES_FACTORY_CHARGE = 2;
