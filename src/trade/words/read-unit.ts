import { keysOf } from './keys-of.ts';
import type { GaugeUnit } from './quantities.ts';
import { writtenUnits } from './written-units.ts';

/**
 * The unit that somebody wrote, whatever the case, the spaces and the dots; undefined when nobody
 * knows it. Milli and mega differ in nothing but the case, so there it decides.
 * Worked: "in.w.c." is [in_i'H2O], "Mfd" is uF; "MV" is not mV.
 */
export function readUnit(written: string): GaugeUnit | undefined {
  const exact = byWriting.get(written);
  if (exact !== undefined) return exact;
  const typed = byPlainWriting.get(plain(written));
  if (typed === undefined) return undefined;
  const prefix = prefixes.get(typed);
  return prefix === undefined || written.trimStart().startsWith(prefix) ? typed : undefined;
}

/**
 * The written unit that is nearest to a typed one among those of these units, at most one slip
 * away (a letter too many, too few, or another); undefined when none is, or the text is so short
 * that one slip makes it anything.
 */
export function nearestUnit(written: string, units: readonly GaugeUnit[]): GaugeUnit | undefined {
  const typed = plain(written);
  if (typed.length < 2) return undefined;
  const near = [...byPlainWriting].filter(
    ([way, unit]) => units.includes(unit) && way.length > 1 && isOneSlipAway(typed, way),
  );
  return near[0]?.[1];
}

/** Both ohm signs become one small omega, and every kind of quote mark for inches a straight one. */
function plain(written: string): string {
  return written
    .toLowerCase()
    .replace(/[\s.]/g, '')
    .replace(/\u201c|\u201d|\u2033|''/g, '"');
}

const byWriting = new Map<string, GaugeUnit>(
  keysOf(writtenUnits).map((written) => [written, writtenUnits[written]]),
);

const byPlainWriting = new Map<string, GaugeUnit>(
  keysOf(writtenUnits).map((written) => [plain(written), writtenUnits[written]]),
);

const prefixes: ReadonlyMap<GaugeUnit, string> = new Map([
  ['mV', 'm'],
  ['mA', 'm'],
  ['MOhm', 'M'],
]);

function isOneSlipAway(typed: string, way: string): boolean {
  const [short, long] = typed.length < way.length ? [typed, way] : [way, typed];
  if (long.length - short.length > 1) return false;
  let same = 0;
  while (same < short.length && short[same] === long[same]) same += 1;
  const rest = short.length === long.length ? short.slice(same + 1) : short.slice(same);
  return long.slice(same + 1) === rest;
}
