import type { EquipmentKind, Nameplate } from '../../src/trade/index.ts';
import type { Random } from './random.ts';

/** A machine's nameplate with what else is printed on it. */
export interface Plate {
  kind: EquipmentKind;
  model: string;
  nameplate: Nameplate;
}

/** An invented outdoor unit: its capacitor is one that the price book has. */
export function inventOutdoor(random: Random): Plate {
  const size = random.pick(OUTDOOR);
  const kind = random.chance(0.3) ? 'heat_pump' : 'condensing_unit';
  const refrigerant = random.pick(['R-410A', 'R-410A', 'R-22', 'R-454B']);
  const meteringDevice = random.pick(['txv', 'fixed_orifice'] as const);
  return {
    kind,
    model: `EX-${size.tons * 12}`,
    nameplate: {
      phase: 1,
      supplyVoltsMin: 187,
      supplyVoltsMax: 253,
      capacitorVolts: 440,
      capacitorTolerancePercent: 6,
      contactorPoles: 2,
      refrigerant,
      markedForA2l: refrigerant === 'R-454B',
      meteringDevice,
      ...(meteringDevice === 'txv' && { targetSubcoolingDegF: random.int(8, 12) }),
      lineSetIncludedFt: 15,
      lineSetOzPerFt: 0.6,
      seer: random.pick([10, 13, 14, 16]),
      ...(kind === 'heat_pump' && {
        reversingValveOn: 'cooling' as const,
        sensorOhmsAt77F: 10_000,
        sensorBetaK: 3_950,
      }),
      compressorMotor: 'psc',
      stages: 1,
      ...size,
      factoryChargeOz: Math.round(size.tons * random.between(24, 34)),
      compressorRlaAmps: oneDecimal(size.compressorRlaAmps + random.between(-0.6, 0.6)),
      compressorLraAmps: Math.round(size.compressorLraAmps + random.between(-6, 6)),
    },
  };
}

/** An invented indoor unit, with the board that holds the control fuse. */
export function inventIndoor(random: Random): Plate {
  const isFurnace = random.chance(0.45);
  return {
    kind: isFurnace ? 'furnace' : 'air_handler',
    model: `${isFurnace ? 'FX' : 'AX'}-${random.pick([36, 48, 60])}`,
    nameplate: {
      phase: 1,
      fanFlaAmps: oneDecimal(random.between(2.4, 6.8)),
      fanMotor: random.pick(['psc', 'ecm'] as const),
      controlFuseAmps: random.pick([3, 3, 5]),
      transformerVa: 40,
      externalStaticMaxInWc: 0.5,
      ...(isFurnace
        ? { heatInputBtuh: random.pick([60_000, 80_000, 100_000]), heatEfficiencyPercent: 80 }
        : { heatKw: random.pick([5, 8, 10]) }),
    },
  };
}

const OUTDOOR = [
  {
    tons: 2.5,
    compressorRlaAmps: 12.8,
    compressorLraAmps: 64,
    fanFlaAmps: 0.7,
    fanMotor: 'psc',
    capacitorHermUf: 35,
    capacitorFanUf: 5,
    mcaAmps: 16.7,
    mocpAmps: 25,
  },
  {
    tons: 3,
    compressorRlaAmps: 17.2,
    compressorLraAmps: 112,
    fanFlaAmps: 1.1,
    fanMotor: 'psc',
    capacitorHermUf: 45,
    capacitorFanUf: 5,
    mcaAmps: 23.5,
    mocpAmps: 40,
  },
  {
    tons: 4,
    compressorRlaAmps: 19.9,
    compressorLraAmps: 109,
    fanFlaAmps: 2.8,
    fanMotor: 'ecm',
    capacitorHermUf: 40,
    mcaAmps: 27.7,
    mocpAmps: 45,
  },
] as const;

function oneDecimal(value: number): number {
  return Math.round(value * 10) / 10;
}
