import { compareWithBand } from '../uncertainty/compare-with-band.ts';
import { controlVoltsMin, deadVoltsMax } from './control-volts.ts';

type MeasuredVolts = { volts: number; uncertaintyVolts: number };

export type SecondaryVerdict =
  | 'good'
  /** Fed, its fuse good, and nothing comes out: look for the short before fitting a new one. */
  | 'open_winding'
  /** It gives something, but less than the controls need: overload, short, or a low supply. */
  | 'low'
  | 'high'
  /** Nothing goes in, so nothing that comes out says anything about the transformer. */
  | 'not_fed'
  /** Nothing comes out, and an open fuse would explain it. */
  | 'fuse_first'
  | 'undecided';

/**
 * What a 24 V transformer's two sides say about it: about 24 to 28 V unloaded is good, down to 20 V
 * under load; nothing out with the primary fed and the fuse good is an open winding.
 * Source: common practice, no source.
 * Worked: 120 V in, 0 V out, fuse good -> open_winding.
 */
export function judgeSecondary(transformer: {
  primary: MeasuredVolts;
  secondary: MeasuredVolts;
  fuse: 'good' | 'open' | 'unknown';
  loaded: boolean;
}): SecondaryVerdict {
  const fed = place(transformer.primary, { low: primaryVoltsMin });
  if (fed !== 'inside') return fed === 'below' ? 'not_fed' : 'undecided';
  if (place(transformer.secondary, { high: deadVoltsMax }) === 'inside') {
    return transformer.fuse === 'good' ? 'open_winding' : 'fuse_first';
  }
  const low = transformer.loaded ? controlVoltsMin : unloadedVoltsMin;
  const given = place(transformer.secondary, { low, high: unloadedVoltsMax });
  if (given !== 'below')
    return ({ inside: 'good', above: 'high', undecided: 'undecided' } as const)[given];
  return place(transformer.secondary, { low: deadVoltsMax }) === 'inside' ? 'low' : 'undecided';
}

/** The lowest utilization voltage of a 120 V circuit, from memory of ANSI C84.1 range B. */
const primaryVoltsMin = 104;

const unloadedVoltsMin = 24;
const unloadedVoltsMax = 28;

function place({ volts, uncertaintyVolts }: MeasuredVolts, band: { low?: number; high?: number }) {
  return compareWithBand({ value: volts, uncertainty: uncertaintyVolts }, band);
}
