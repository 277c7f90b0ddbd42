import type { PaperLanguage } from '../documents/index.ts';
import type { Reading } from '../platform/database/generated/client.ts';
import { paperMeasurement } from '../quotes/index.ts';
import {
  pointCodeSchema,
  pointWords,
  quantitySchema,
  readingInSpanish,
  unitSchema,
} from '../trade/index.ts';

/** A reading in words, in the unit and digits people use: 'Line voltage at the unit: 240 V'. */
export function readingText(
  reading: Pick<Reading, 'quantity' | 'point' | 'value' | 'unit'>,
  language: PaperLanguage,
): string {
  const point = pointCodeSchema.parse(reading.point);
  const quantity = quantitySchema.parse(reading.quantity);
  const { value, unit, decimals } = paperMeasurement({
    label: point,
    value: reading.value,
    unit: unitSchema.parse(reading.unit),
    uncertainty: 0,
  });
  const { name } = pointWords[point];
  const what =
    language === 'es'
      ? readingInSpanish({ quantity, point })
      : `${name.charAt(0).toUpperCase()}${name.slice(1)}`;
  return `${what}: ${value.toFixed(decimals)} ${unit}`;
}
