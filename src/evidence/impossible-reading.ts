import { ProblemError } from '../platform/http/problem.ts';
import { type Quantity, type ReadingRefusal, unitsOf } from '../trade/index.ts';

/** The refusal of a reading that cannot be, with the range, the likely slip and the place of it. */
export function impossibleReading(
  { quantity }: { quantity: Quantity },
  refusal: ReadingRefusal,
  index: number,
): ProblemError {
  return new ProblemError('reading-out-of-range', refusal.message, {
    errors: [
      {
        in: 'body',
        pointer: `/readings/${index}/${fieldOf[refusal.kind]}`,
        code: refusal.kind,
        message: refusal.message,
      },
    ],
    ...(refusal.kind === 'out_of_range' && {
      range: { low: refusal.low, high: refusal.high, unit: refusal.unit },
      ...(refusal.likely !== undefined && {
        likelyValue: refusal.likely.value,
        likelyUnit: refusal.likely.unit,
      }),
    }),
    ...(refusal.kind === 'wrong_unit' && { units: unitsOf(quantity) }),
  });
}

const fieldOf = {
  not_a_number: 'value',
  out_of_range: 'value',
  wrong_quantity: 'quantity',
  wrong_unit: 'unit',
  wrong_method: 'method',
} as const;
