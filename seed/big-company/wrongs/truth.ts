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

export type WrongKind = (typeof wrongKinds)[number];

/**
 * What was written wrongly, as its maker knows it. The right amount is what the same job came to
 * before it was bent; where only records were bent, both amounts are the same.
 */
export interface Truth {
  readonly kind: WrongKind;
  readonly ticketId: string;
  readonly ticketNumber: number;
  readonly technicianId: string;
  /** All bills of the ticket, tax included. */
  readonly chargedCents: number;
  readonly rightCents: number;
}
