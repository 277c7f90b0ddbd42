import type { Nameplate } from '../evidence.ts';

/**
 * What a nameplate says of the blower. On the plate of a machine that holds the compressor too, the
 * fan motor and its amps are those of the outdoor fan, so the blower's are not known from them.
 */
export function blowerPlate(nameplate: Nameplate): {
  motor: 'psc' | 'ecm' | undefined;
  fullLoadAmps: number | undefined;
} {
  const isOfBlower = !holdsCompressor(nameplate);
  const named = isOfBlower ? nameplate.fanMotor : undefined;
  return {
    // Only a PSC motor has a run capacitor.
    motor: nameplate.capacitorBlowerUf === undefined ? named : 'psc',
    fullLoadAmps: isOfBlower ? nameplate.fanFlaAmps : undefined,
  };
}

function holdsCompressor(nameplate: Nameplate): boolean {
  const { compressorMotor, compressorRlaAmps, compressorLraAmps } = nameplate;
  const { capacitorHermUf, capacitorFanUf } = nameplate;
  return [
    compressorMotor,
    compressorRlaAmps,
    compressorLraAmps,
    capacitorHermUf,
    capacitorFanUf,
  ].some((field) => field !== undefined);
}
