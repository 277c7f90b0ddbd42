import {
  type Evidence,
  type Nameplate,
  type Observation,
  type ObservationCode,
  observationWords,
  type PointCode,
  type Reading,
} from '../../src/trade/index.ts';

/** An invented single-phase condensing unit with a 45/5 uF, 440 V dual run capacitor of +/-6 %. */
export const condenserNameplate: Nameplate = {
  phase: 1,
  supplyVoltsMin: 197,
  supplyVoltsMax: 253,
  compressorRlaAmps: 17.9,
  compressorLraAmps: 112,
  fanFlaAmps: 1.1,
  capacitorHermUf: 45,
  capacitorFanUf: 5,
  capacitorVolts: 440,
  capacitorTolerancePercent: 6,
  mcaAmps: 23.5,
  mocpAmps: 40,
  compressorMotor: 'psc',
  fanMotor: 'psc',
};

export function outdoorUnit(signs: readonly Sign[], nameplate: Partial<Nameplate> = {}): Evidence {
  return makeEvidence('condensing_unit', { ...condenserNameplate, ...nameplate }, signs);
}

export function airHandler(signs: readonly Sign[], nameplate: Nameplate = {}): Evidence {
  return makeEvidence('air_handler', { controlFuseAmps: 5, ...nameplate }, signs);
}

/** A reading or an observation; the maker gives it an id and files it in the right list. */
export type Sign = { reading: Omit<Reading, 'id'> } | { observation: Omit<Observation, 'id'> };

export function makeEvidence(
  kind: Evidence['equipment']['kind'],
  nameplate: Nameplate,
  signs: readonly Sign[],
): Evidence {
  const readings: Reading[] = [];
  const observations: Observation[] = [];
  signs.forEach((sign, index) => {
    if ('reading' in sign) readings.push({ id: `r${index}`, ...sign.reading });
    else observations.push({ id: `o${index}`, ...sign.observation });
  });
  return { equipment: { id: 'unit-1', kind, nameplate }, readings, observations };
}

const tenOClock = '2026-07-14T15:00:00Z';

export function amps(point: PointCode, value: number, more: Partial<Reading> = {}): Sign {
  return reading({ quantity: 'current', unit: 'A', method: 'clamp_meter', point, value, ...more });
}

export function volts(point: PointCode, value: number, more: Partial<Reading> = {}): Sign {
  return reading({ quantity: 'voltage', unit: 'V', method: 'multimeter', point, value, ...more });
}

export function ohms(point: PointCode, value: number, more: Partial<Reading> = {}): Sign {
  return reading({
    quantity: 'resistance',
    unit: 'Ohm',
    method: 'multimeter',
    point,
    value,
    ...more,
  });
}

export function degF(point: PointCode, value: number, more: Partial<Reading> = {}): Sign {
  const method = 'thermometer';
  return reading({ quantity: 'temperature', unit: '[degF]', method, point, value, ...more });
}

export function psig(point: PointCode, value: number, more: Partial<Reading> = {}): Sign {
  const method = 'digital_gauge';
  return reading({ quantity: 'gauge_pressure', unit: '[psi]', method, point, value, ...more });
}

/** A capacitance read straight from a meter with the capacitor's leads off. */
export function microfarads(point: PointCode, value: number, more: Partial<Reading> = {}): Sign {
  const method = 'capacitance_meter_disconnected';
  return reading({ quantity: 'capacitance', unit: 'uF', method, point, value, ...more });
}

/** Amperes and volts that a technician takes together on one section of a running capacitor. */
export function running(
  point: PointCode,
  ampsValue: number,
  voltsValue: number,
  more: Partial<Reading> = {},
): Sign[] {
  return [amps(point, ampsValue, more), volts(point, voltsValue, more)];
}

export function saw(
  code: ObservationCode,
  answer: Observation['answer'] = 'yes',
  more: Partial<Observation> = {},
): Sign {
  const seenOn = observationWords[code].about !== 'house' ? { equipmentId: 'unit-1' } : {};
  return {
    observation: {
      ...seenOn,
      code,
      answer,
      source: 'observed',
      phase: 'found',
      at: tenOClock,
      ...more,
    },
  };
}

export const withPhoto: Partial<Observation> = { photoSha256: 'a'.repeat(64) };

function reading(fields: Pick<Reading, 'quantity' | 'unit' | 'method' | 'point' | 'value'>): Sign {
  return {
    reading: {
      equipmentId: 'unit-1',
      source: 'measured',
      phase: 'found',
      takenAt: tenOClock,
      ...fields,
    },
  };
}
