import type { Facts } from './admit-evidence.ts';
import { measuredFrom, readingsAt, type Settled, settle } from './measured.ts';
import { remembered } from './remembered-for.ts';

/** The current of the compressor once its start is over. */
export const compressorRunningAmps = remembered((facts): Settled => {
  return ampsBy(facts, 'clamp');
});

/** The peak at the start, which is near locked rotor on a sound compressor too. */
export const compressorStartAmps = remembered((facts): Settled => {
  return ampsBy(facts, 'inrush');
});

function ampsBy(facts: Facts, moment: 'clamp' | 'inrush'): Settled {
  const readings = readingsAt(facts, 'compressor_common', 'current').filter(
    ({ method }) => (method === 'clamp_meter_inrush') === (moment === 'inrush'),
  );
  return settle(readings.map(measuredFrom));
}
