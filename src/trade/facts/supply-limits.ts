import { type SupplyBand, supplyBand } from '../electrical/voltage-band.ts';
import type { Facts } from './admit-evidence.ts';

/** 115 V less 10 %, from memory of usual furnace plates. */
const furnaceVoltsMin = 103.5;

/** 115 V plus 10 %, from memory of usual furnace plates. */
const furnaceVoltsMax = 126.5;

/** Between what voltages this machine and its motors may run; undefined where nothing tells. */
export function supplyLimits({ equipment }: Facts): SupplyBand['band'] | undefined {
  const supply = supplyBand(equipment.nameplate);
  if (supply?.basis === 'usual_208_230' && equipment.kind === 'furnace') {
    return { low: furnaceVoltsMin, high: furnaceVoltsMax };
  }
  return supply?.band;
}
