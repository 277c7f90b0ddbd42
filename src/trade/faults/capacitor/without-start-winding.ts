import type { Nameplate } from '../../evidence.ts';

/** Why a compressor has no start winding that a start device could help; undefined if it has one. */
export function withoutStartWinding(nameplate: Nameplate): string | undefined {
  const { compressorMotor, phase } = nameplate;
  if (compressorMotor === 'inverter') {
    return 'the compressor is driven by an inverter and takes no start device';
  }
  const isThreePhase = compressorMotor === 'three_phase' || phase === 3;
  return isThreePhase ? 'a three-phase compressor takes no start device' : undefined;
}
