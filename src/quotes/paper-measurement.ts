import type { PaperLanguage, PaperMeasurement } from '../documents/index.ts';
import {
  compareWithLimit,
  labelInSpanish,
  type Measurement,
  printedUnit,
  tellsPresence,
} from '../trade/index.ts';
import { ohmUnit } from './ohm-unit.ts';
import { type PaperWords, paperWords } from './paper-words.ts';

/** A measured value beside its limits as the paper draws it, in the unit and digits people use. */
export function paperMeasurement(
  measurement: Measurement,
  language: PaperLanguage = 'en',
): PaperMeasurement {
  if (tellsPresence(measurement)) return presenceOnPaper(measurement, language);
  const { unit, measured } = inPaperUnit(measurement);
  const { label, value, uncertainty, low, high } = measured;
  const limitDecimals = limitDecimalsFor(measured);
  return {
    label: nameOf[language](label),
    value,
    unit,
    decimals: decimalsFor(measured, [value]),
    ...(limitDecimals !== undefined && { limitDecimals }),
    ...(low !== undefined && { low }),
    ...(high !== undefined && { high }),
    uncertainty,
    verdict: limitsVerdict(measurement),
    limitText: limitText(measured, unit, paperWords[language]),
  };
}

/** Without a gauge: the least that counts as voltage is no limit to be shown as one. */
function presenceOnPaper(measurement: Measurement, language: PaperLanguage): PaperMeasurement {
  const { label, value, unit, uncertainty } = measurement;
  const side = { within: 'present', outside: 'absent', undecided: 'undecided' } as const;
  return {
    label: nameOf[language](label),
    value,
    unit: printedUnit[unit],
    decimals: decimalsFor(measurement, [value]),
    uncertainty,
    verdict: side[limitsVerdict(measurement)],
    limitText: paperWords[language].presence,
  };
}

const nameOf: Record<PaperLanguage, (label: string) => string> = {
  en: (label) => label,
  es: labelInSpanish,
};

/** Everything in one unit: that of the smallest figure, so that none of them vanishes. */
function inPaperUnit(measurement: Measurement): { unit: string; measured: Measurement } {
  const { unit, value, uncertainty, low, high, rated } = measurement;
  if (unit !== 'Ohm') {
    return { unit: PAPER_UNIT[unit] ?? printedUnit[unit], measured: measurement };
  }
  const figures = [value, ...limitsOf(measurement)].filter((figure) => figure > 0);
  const ohm = ohmUnit(Math.min(...figures, Number.MAX_VALUE));
  const measured: Measurement = {
    ...measurement,
    value: value / ohm.size,
    uncertainty: uncertainty / ohm.size,
    ...(low !== undefined && { low: low / ohm.size }),
    ...(high !== undefined && { high: high / ohm.size }),
    ...(rated !== undefined && { rated: rated / ohm.size }),
  };
  return { unit: ohm.unit, measured };
}

const PAPER_UNIT: Partial<Record<Measurement['unit'], string>> = {
  uF: 'µF',
  '[degF]': '°F',
};

/** As many digits as a service meter shows; both limits get the same. */
function decimalsFor({ unit }: Measurement, figures: readonly number[]): number {
  const largest = Math.max(...figures.map(Math.abs));
  switch (unit) {
    case 'um[Hg]':
    case '[cft_i]/min':
      return 0;
    case '[degF]':
    case '[psi]':
    case '[oz_av]':
    case '[ft_i]':
    case '%':
      return largest >= 100 ? 0 : 1;
    case "[in_i'H2O]":
      return 2;
    default:
      return largest >= 100 ? 0 : largest >= 10 ? 1 : 2;
  }
}

function limitDecimalsFor(measured: Measurement): number | undefined {
  const limits = limitsOf(measured);
  if (limits.length === 0) return undefined;
  return limits.every(Number.isInteger) ? 0 : decimalsFor(measured, limits);
}

function limitsOf({ low, high }: Measurement): number[] {
  return [low, high].filter((limit) => limit !== undefined);
}

function limitsVerdict({
  value,
  uncertainty,
  low,
  high,
}: Measurement): 'within' | 'outside' | 'undecided' {
  const besideLow = low === undefined ? 'above' : compareWithLimit({ value, uncertainty }, low);
  const besideHigh = high === undefined ? 'below' : compareWithLimit({ value, uncertainty }, high);
  if (besideLow === 'below' || besideHigh === 'above') return 'outside';
  return besideLow === 'above' && besideHigh === 'below' ? 'within' : 'undecided';
}

function limitText(
  measured: Measurement,
  unit: string,
  { marked: markedWords, asked, allowed }: PaperWords,
): string {
  const digits = limitDecimalsFor(measured);
  const figure = (value: number) =>
    value.toLocaleString('en-US', { minimumFractionDigits: digits, maximumFractionDigits: digits });
  const withUnit = (value: number) => `${figure(value)} ${unit}`;
  const { low, high, rated } = measured;
  // No plate is marked with a share: it is a share of what the plate asks for.
  const ratedWords = measured.unit === '%' ? asked : markedWords;
  const marked = rated === undefined ? '' : `${ratedWords(`${Number(rated.toFixed(2))} ${unit}`)} `;
  if (low !== undefined && high !== undefined) {
    return `${marked}${allowed.between(figure(low), withUnit(high))}`;
  }
  if (low !== undefined) return `${marked}${allowed.atLeast(withUnit(low))}`;
  if (high !== undefined) return `${marked}${allowed.atMost(withUnit(high))}`;
  return marked.trim();
}
