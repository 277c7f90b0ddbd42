import type { GivenAnswer } from './given-answer.ts';
import type { Dialogue } from './next-step.ts';

/**
 * What a dialogue tells of how urgent it is; what was not asked or not known is not there. Every
 * script asks it under these names, so that an old dialogue is read like a new one.
 */
export interface Told {
  /** Groups of vulnerable people who are there; empty where somebody said that nobody is. */
  vulnerable?: readonly string[];
  indoorTempDegF?: number;
  relativeHumidityPercent?: number;
  /** They can go somewhere cooler. */
  hasCoolerPlace?: boolean;
  waterSpreading?: boolean;
  /** No air, or warm air. */
  noCooling?: boolean;
}

/** Reads it from the answers that count. */
export function toldIn({ path }: Pick<Dialogue, 'path'>): Told {
  return Object.assign({}, ...path.map(({ given }) => readers[given.question]?.(given) ?? {}));
}

const readers: Readonly<Record<string, (given: GivenAnswer) => Told>> = {
  vulnerable: ({ answer }) =>
    answer === 'unknown' ? {} : { vulnerable: answer === 'none' ? [] : answer.split(',') },
  indoor_temperature: ({ numberValue }) =>
    numberValue === undefined ? {} : { indoorTempDegF: numberValue },
  indoor_humidity: ({ numberValue }) =>
    numberValue === undefined ? {} : { relativeHumidityPercent: numberValue },
  cooler_place: ({ answer }) => (answer === 'unknown' ? {} : { hasCoolerPlace: answer === 'yes' }),
  water_seen: ({ answer }) =>
    answer === 'unknown' ? {} : { waterSpreading: answer === 'spreading' },
  air: ({ answer }) =>
    answer === 'unknown' ? {} : { noCooling: answer === 'none' || answer === 'warm' },
};
