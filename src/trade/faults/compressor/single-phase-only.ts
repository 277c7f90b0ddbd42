import type { Nameplate } from '../../evidence.ts';

/** Why rules made for a single-phase compressor do not fit this one; undefined when they do. */
export function singlePhaseOnly(nameplate: Nameplate): string | undefined {
  if (nameplate.compressorMotor === 'inverter') {
    return 'an inverter drives the compressor, and its maker says how it is tested';
  }
  return nameplate.compressorMotor === 'three_phase' || nameplate.phase === 3
    ? 'a three-phase compressor has three windings alike, which these rules do not judge'
    : undefined;
}
