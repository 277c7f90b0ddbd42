import { type HeatCategory, heatCategory, heatIndexDegF } from '../trade/index.ts';
import type { Air } from './facts.ts';

/** How hot some air feels, and how that was found. */
export interface FeltHeat {
  degF: number;
  category: HeatCategory;
  /** Air of unknown humidity is taken at its temperature. */
  basis: 'heat_index' | 'temperature';
}

/**
 * How hot air feels by the heat index of the National Weather Service, never less than its own
 * temperature: the index of dry air lies below it, but whoever waits in a hot room is not the safer
 * for that.
 */
export function feltHeat({ tempDegF, relativeHumidityPercent }: Air): FeltHeat {
  const index =
    relativeHumidityPercent === null ? undefined : heatIndexDegF(tempDegF, relativeHumidityPercent);
  const degF = Math.max(tempDegF, index ?? tempDegF);
  return {
    degF,
    category: heatCategory(degF),
    basis: index === undefined ? 'temperature' : 'heat_index',
  };
}
