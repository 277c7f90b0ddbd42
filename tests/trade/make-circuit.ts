import type { PointCode, Reading } from '../../src/trade/index.ts';
import type { Sign } from './make-evidence.ts';

/** A pressure by a digital gauge. */
export function psig(point: PointCode, value: number, minute = 0): Sign {
  return reading(
    { quantity: 'gauge_pressure', unit: '[psi]', method: 'digital_gauge', point, value },
    minute,
  );
}

/** The temperature of a pipe, by a clamp on it. */
export function pipeDegF(point: PointCode, value: number, minute = 0): Sign {
  const method = 'pipe_clamp_thermometer';
  return reading({ quantity: 'temperature', unit: '[degF]', method, point, value }, minute);
}

/** The temperature of the air or of a surface. */
export function degF(point: PointCode, value: number, minute = 0): Sign {
  return reading(
    { quantity: 'temperature', unit: '[degF]', method: 'thermometer', point, value },
    minute,
  );
}

export function wetBulbDegF(point: PointCode, value: number, minute = 0): Sign {
  return reading(
    { quantity: 'wet_bulb_temperature', unit: '[degF]', method: 'psychrometer', point, value },
    minute,
  );
}

export function inH2O(point: PointCode, value: number, minute = 0): Sign {
  return reading(
    { quantity: 'static_pressure', unit: "[in_i'H2O]", method: 'manometer', point, value },
    minute,
  );
}

/** A minute after three in the afternoon. */
export function atMinute(minute: number): string {
  return new Date(Date.parse('2026-07-14T15:00:00Z') + minute * 60_000).toISOString();
}

function reading(
  fields: Pick<Reading, 'quantity' | 'unit' | 'method' | 'point' | 'value'>,
  minute: number,
): Sign {
  return {
    reading: {
      equipmentId: 'unit-1',
      source: 'measured',
      phase: 'found',
      takenAt: atMinute(minute),
      ...fields,
    },
  };
}
