import type { Nameplate, PointCode, Reading } from '../../src/trade/index.ts';
import { atmospherePsia } from '../../src/trade/refrigerant/atmosphere.ts';
import type { RefrigerantCode } from '../../src/trade/refrigerant/refrigerants.ts';
import { bubblePressurePsig, dewPressurePsig } from '../../src/trade/refrigerant/saturation.ts';
import { degF, psig, type Sign } from './make-evidence.ts';

/** A running circuit as its temperatures: what a technician's gauges and clamps then show. */
export type Circuit = {
  refrigerant: RefrigerantCode;
  altitudeFt: number;
  outdoorDegF: number;
  returnDegF: number;
  wetBulbDegF: number;
  /** Of the suction, on the dew line. */
  evaporatingDegF: number;
  /** Of the liquid, on the bubble line. */
  condensingDegF: number;
  superheatDegF: number;
  subcoolingDegF: number;
  splitDegF: number;
  drierDropDegF: number;
};

/** In order, on a day of 95 F: 12 F of superheat, 10 F of subcooling, 17 F above the outdoor air. */
export const soundCircuit: Circuit = {
  refrigerant: 'R-410A',
  altitudeFt: 0,
  outdoorDegF: 95,
  returnDegF: 76,
  wetBulbDegF: 63,
  evaporatingDegF: 41,
  condensingDegF: 112.5,
  superheatDegF: 12,
  subcoolingDegF: 10,
  splitDegF: 19.5,
  drierDropDegF: 0.3,
};

/** Its plate: a valve charged to 10 F of subcooling, 15 SEER, 104 oz with 15 ft of line set. */
export const circuitPlate: Partial<Nameplate> = {
  refrigerant: 'R-410A',
  meteringDevice: 'txv',
  targetSubcoolingDegF: 10,
  seer: 15,
  factoryChargeOz: 104,
  lineSetIncludedFt: 15,
  lineSetOzPerFt: 0.6,
};

/** The readings of pressures, lines and air that this circuit shows, all within a minute. */
export function circuitReadings(change: Partial<Circuit> = {}): Sign[] {
  const at = { ...soundCircuit, ...change };
  const liquidLineDegF = at.condensingDegF - at.subcoolingDegF;
  return [
    psig('suction_port', pressureOf(at, 'suction')),
    psig('liquid_port', pressureOf(at, 'liquid')),
    clamp('suction_line', at.evaporatingDegF + at.superheatDegF),
    clamp('liquid_line', liquidLineDegF),
    degF('outdoor_air', at.outdoorDegF),
    degF('return_air', at.returnDegF),
    degF('supply_air', at.returnDegF - at.splitDegF),
    wetBulb(at.wetBulbDegF),
    clamp('filter_drier_in', liquidLineDegF),
    clamp('filter_drier_out', liquidLineDegF - at.drierDropDegF),
  ];
}

export function clamp(point: PointCode, value: number, more: Partial<Reading> = {}): Sign {
  return degF(point, value, { method: 'pipe_clamp_thermometer', ...more });
}

function wetBulb(value: number): Sign {
  const more = { quantity: 'wet_bulb_temperature', method: 'psychrometer' } as const;
  return degF('return_air', value, more);
}

export function ounces(value: number): Sign {
  const more = { quantity: 'mass', unit: '[oz_av]', method: 'refrigerant_scale' } as const;
  return degF('recovered_charge', value, more);
}

export function lineSetFt(value: number): Sign {
  const more = { quantity: 'length', unit: '[ft_i]', method: 'tape_measure' } as const;
  return degF('line_set', value, more);
}

function pressureOf(at: Circuit, side: 'suction' | 'liquid'): number {
  const atmosphere = atmospherePsia(at.altitudeFt);
  const pressure =
    side === 'suction'
      ? dewPressurePsig(at.refrigerant, at.evaporatingDegF, atmosphere)
      : bubblePressurePsig(at.refrigerant, at.condensingDegF, atmosphere);
  if (pressure === undefined) throw new RangeError('this circuit is outside the table');
  return pressure;
}
