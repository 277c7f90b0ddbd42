import type { ObservationCode } from '../observations.ts';
import type { PointCode } from '../points.ts';
import type { Quantity } from '../quantities.ts';

/** One quantity at one point: `line_supply.voltage`. */
export type PointQuantity = `${PointCode}.${Quantity}`;

/**
 * A thing a technician does in one go to learn something: what is asked, how long it takes with
 * everything around it, what it puts the technician's hands into, and what it puts on record.
 * `look` opens nothing under voltage; `power_off` works behind a locked disconnect; `live` measures
 * under voltage; `gauges` opens the refrigerant circuit to gauges and asks for the certificate.
 */
export type CheckWords = {
  ask: string;
  minutes: number;
  care: 'look' | 'power_off' | 'live' | 'gauges';
  on: 'outdoor' | 'indoor' | 'any';
  observations: readonly ObservationCode[];
  readings: readonly PointQuantity[];
};
