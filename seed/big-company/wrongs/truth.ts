/** What can be wrong with a job that is over, and is written so on purpose. */
export const wrongKinds = [
  'reset_billed_as_repair',
  'line_without_finding',
  'price_above_ceiling',
  'padded_minutes',
  'padded_part_cost',
  'fee_not_credited',
  'fee_charged_twice',
  'warranted_part_charged',
  'recall_charged',
  'duplicate_part',
  'parts_not_used',
  'refrigerant_without_record',
  'refrigerant_without_certificate',
  'work_before_acceptance',
  'wrong_tax',
  'cancelled_after_time_on_site',
  'readings_after_quote',
  'invented_readings',
] as const;

/** What can be wrong only where a visit takes an uncommon turn. */
export const wrongKindsOfTurns = [
  /** The way in, charged once more by a change order. */
  'access_charged_twice',
  /** The evening's factor on a job of the day. */
  'after_hours_by_day',
] as const;

/** Honest, and worth a look all the same. */
export const askedKinds = ['part_failed_again'] as const;

export type WrongKind =
  | (typeof wrongKinds)[number]
  | (typeof wrongKindsOfTurns)[number]
  | (typeof askedKinds)[number];

/** In what a wrong hides. */
export const wrongShapes = [
  'change_order',
  'mended_again',
  'same_trip',
  'last_evening',
  'fee_apart',
  'adjusted',
  'goodwill',
] as const;
export type WrongShape = (typeof wrongShapes)[number];

/**
 * What was written wrongly, as its maker knows it. The right amount is what the same job came to
 * before it was bent; where only records were bent, both amounts are the same.
 */
export interface Truth {
  readonly kind: WrongKind;
  readonly shape?: WrongShape;
  readonly ticketId: string;
  readonly ticketNumber: number;
  readonly technicianId: string;
  /** All bills of the ticket less what was given back of them, tax included. */
  readonly chargedCents: number;
  readonly rightCents: number;
}
