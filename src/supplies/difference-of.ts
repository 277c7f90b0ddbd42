/** How far a bill's unit cost is from the book's, in cents and in percent of the book's. */
export interface CostDifference {
  /** Positive when the bill is dearer. */
  differenceCents: number;
  /** To one digit after the point; null when the book's cost is zero. */
  differencePercent: string | null;
}

/** 2024 against 1840 -> 184 cents, '10.0' percent; 1700 against 1840 -> -140 cents, '-7.6'. */
export function differenceOf(billedCents: number, bookCents: number): CostDifference {
  const differenceCents = billedCents - bookCents;
  return {
    differenceCents,
    differencePercent:
      bookCents === 0 ? null : tenthsText(Math.round((differenceCents * 1000) / bookCents)),
  };
}

// Math.round may give minus zero, which is no text a person would write.
function tenthsText(tenths: number): string {
  return (tenths === 0 ? 0 : tenths / 10).toFixed(1);
}
