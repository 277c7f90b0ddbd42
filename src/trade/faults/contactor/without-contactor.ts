import type { Nameplate } from '../../evidence.ts';

/** Why a machine of a kind that usually has a contactor has none; undefined when it has one. */
export function withoutContactor(nameplate: Nameplate): string | undefined {
  return nameplate.compressorMotor === 'inverter'
    ? 'an inverter unit switches its compressor by its own board'
    : undefined;
}
