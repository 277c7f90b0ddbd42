import {
  add,
  decimal,
  divide,
  type Fraction,
  multiply,
  nearestDouble,
  subtract,
} from './fraction.ts';
import { keysOf } from './keys-of.ts';

/**
 * A value as typed in the gauge's unit, in the canonical unit of its quantity: read from its
 * shortest decimal text, converted exactly, and rounded once to the nearest double. A value that is
 * already in that unit comes back untouched.
 * Undefined when the quantity is not read in that unit (see `unitsAccepted`).
 * @throws RangeError for a value that is not finite.
 * Worked: 100 Cel -> 212 [degF]; -40 Cel -> -40 [degF]; 101.325 kPa -> 14.695948775513449 [psi].
 */
export function toCanonical(
  value: number,
  unit: UnitCode,
  canonical: CanonicalUnit,
): number | undefined {
  return isAccepted(unit, canonical) ? convertUnit(value, unit, canonical) : undefined;
}

/**
 * The same for a difference: an uncertainty, a display's last digit, a split. Only temperatures
 * differ, as their scales do not share a zero. Worked: 0.1 Cel -> 0.18 [degF].
 */
export function differenceToCanonical(
  difference: number,
  unit: UnitCode,
  canonical: CanonicalUnit,
): number | undefined {
  if (!isAccepted(unit, canonical)) return undefined;
  return unit === canonical ? difference : exactly(difference, unit, canonical, 'difference');
}

/**
 * Any unit into any other of the same kind, exactly and rounded once; undefined between kinds.
 * For showing a stored value in the unit it was typed in.
 * @throws RangeError for a value that is not finite.
 */
export function convertUnit(value: number, from: UnitCode, to: UnitCode): number | undefined {
  if (from === to) return value;
  return sizes[from].kind === sizes[to].kind ? exactly(value, from, to, 'value') : undefined;
}

/**
 * Which units a quantity may be typed in, by its canonical unit. A pressure's unit alone does not
 * tell its quantity: kPa is a gauge's or a manometer's, Pa a manometer's or a vacuum gauge's.
 * mF is left out: whoever writes it means mfd, a thousandth of it. Vacuum on a refrigerant gauge
 * (`[in_i'Hg]`) is below zero; `checkReading` refuses it without its minus.
 */
export const unitsAccepted = {
  V: ['V', 'mV', 'kV'],
  A: ['A', 'mA'],
  uF: ['uF', 'nF', 'pF'],
  Ohm: ['Ohm', 'kOhm', 'MOhm', 'GOhm'],
  '[degF]': ['[degF]', 'Cel', 'K'],
  '[psi]': ['[psi]', 'kPa', 'MPa', 'bar', "[in_i'Hg]"],
  "[in_i'H2O]": ["[in_i'H2O]", 'Pa', 'mbar', 'kPa'],
  'um[Hg]': ['um[Hg]', 'mm[Hg]', 'Pa'],
  '[oz_av]': ['[oz_av]', '[lb_av]', 'g', 'kg'],
  '[ft_i]': ['[ft_i]', 'm', '[in_i]'],
  '[cft_i]/min': ['[cft_i]/min', 'L/s', 'm3/h'],
  '%': ['%'],
} as const satisfies Record<string, readonly UnitCode[]>;

/** The one UCUM code that values of a quantity are stored in. */
export type CanonicalUnit = keyof typeof unitsAccepted;

function isAccepted(unit: UnitCode, canonical: CanonicalUnit): boolean {
  const accepted: readonly UnitCode[] = unitsAccepted[canonical];
  return accepted.includes(unit);
}

/** One of a unit in the base of its kind; `zero` is where its scale begins, in that base. */
type UnitSize = { kind: string; size: Fraction; zero?: Fraction };

// NIST SP 811 appendix B, all exact by definition: the inch, the pound, standard gravity, and the
// conventional millimeter of mercury of 13,595.1 kg/m3. UCUM rounds the last to 133.322 Pa.
const meterPerInch = decimal('0.0254');
const meterPerFoot = decimal('0.3048');
const kilogramPerPound = decimal('0.45359237');
const gravity = decimal('9.80665');
const pascalPerMeterOfMercury = decimal('133322.387415');

// UCUM defines the meter of water column as 9.80665 kPa exactly.
const pascalPerMeterOfWater = decimal('9806.65');

const pascalPerPsi = divide(
  multiply(kilogramPerPound, gravity),
  multiply(meterPerInch, meterPerInch),
);
const cubicMeterPerCubicFoot = multiply(meterPerFoot, multiply(meterPerFoot, meterPerFoot));

/** Every unit of a gauge that is understood, by its UCUM code. */
const sizes = {
  V: { kind: 'voltage', size: decimal('1') },
  mV: { kind: 'voltage', size: decimal('0.001') },
  kV: { kind: 'voltage', size: decimal('1000') },
  A: { kind: 'current', size: decimal('1') },
  mA: { kind: 'current', size: decimal('0.001') },
  uF: { kind: 'capacitance', size: decimal('0.000001') },
  nF: { kind: 'capacitance', size: decimal('0.000000001') },
  pF: { kind: 'capacitance', size: decimal('0.000000000001') },
  Ohm: { kind: 'resistance', size: decimal('1') },
  kOhm: { kind: 'resistance', size: decimal('1000') },
  MOhm: { kind: 'resistance', size: decimal('1000000') },
  GOhm: { kind: 'resistance', size: decimal('1000000000') },
  // In kelvins: 0 F is 459.67 ninths of 5 K above absolute zero.
  K: { kind: 'temperature', size: decimal('1') },
  Cel: { kind: 'temperature', size: decimal('1'), zero: decimal('273.15') },
  '[degF]': {
    kind: 'temperature',
    size: { over: 5n, under: 9n },
    zero: multiply(decimal('459.67'), { over: 5n, under: 9n }),
  },
  Pa: { kind: 'pressure', size: decimal('1') },
  kPa: { kind: 'pressure', size: decimal('1000') },
  MPa: { kind: 'pressure', size: decimal('1000000') },
  mbar: { kind: 'pressure', size: decimal('100') },
  bar: { kind: 'pressure', size: decimal('100000') },
  '[psi]': { kind: 'pressure', size: pascalPerPsi },
  "[in_i'Hg]": { kind: 'pressure', size: multiply(pascalPerMeterOfMercury, meterPerInch) },
  "[in_i'H2O]": { kind: 'pressure', size: multiply(pascalPerMeterOfWater, meterPerInch) },
  'mm[Hg]': { kind: 'pressure', size: multiply(pascalPerMeterOfMercury, decimal('0.001')) },
  'um[Hg]': { kind: 'pressure', size: multiply(pascalPerMeterOfMercury, decimal('0.000001')) },
  kg: { kind: 'mass', size: decimal('1') },
  g: { kind: 'mass', size: decimal('0.001') },
  '[lb_av]': { kind: 'mass', size: kilogramPerPound },
  '[oz_av]': { kind: 'mass', size: divide(kilogramPerPound, decimal('16')) },
  m: { kind: 'length', size: decimal('1') },
  '[ft_i]': { kind: 'length', size: meterPerFoot },
  '[in_i]': { kind: 'length', size: meterPerInch },
  // In cubic meters per second.
  '[cft_i]/min': { kind: 'airflow', size: divide(cubicMeterPerCubicFoot, decimal('60')) },
  'L/s': { kind: 'airflow', size: decimal('0.001') },
  'm3/h': { kind: 'airflow', size: divide(decimal('1'), decimal('3600')) },
  '%': { kind: 'share', size: decimal('0.01') },
} as const satisfies Record<string, UnitSize>;

export type UnitCode = keyof typeof sizes;

/** Every unit code that is understood, in a fixed order. */
export const unitCodes: readonly UnitCode[] = keysOf(sizes);

function exactly(
  value: number,
  from: UnitCode,
  to: UnitCode,
  what: 'value' | 'difference',
): number {
  if (!Number.isFinite(value)) throw new RangeError(`${value} is no reading`);
  const inBase = multiply(decimal(String(value)), sizes[from].size);
  if (what === 'difference') return nearestDouble(divide(inBase, sizes[to].size));
  const aboveZero = subtract(add(inBase, zeroOf(from)), zeroOf(to));
  return nearestDouble(divide(aboveZero, sizes[to].size));
}

function zeroOf(unit: UnitCode): Fraction {
  const { zero }: UnitSize = sizes[unit];
  return zero ?? { over: 0n, under: 1n };
}
