/**
 * When a charge may be judged at all and how far off it may be. From the California
 * field-verification protocol for refrigerant charge, RA3.2 of the Residential Appendices; a rater
 * who checks another's work is allowed one more degree of superheat.
 */
export const chargeTestLimits = {
  /** Superheat may differ this much from its target, fixed metering, F. */
  superheatToleranceDegF: 5,
  /** The expansion device works when superheat is inside these, unless its maker says otherwise, F. */
  meteringSuperheatLowDegF: 4,
  meteringSuperheatHighDegF: 25,
  /** How long the system must have run before it is read, minutes. */
  stabilizeMinutes: 15,
  /** Colder outdoors than this, a charge cannot be judged by readings, F. */
  outdoorDegFMin: 55,
  /**
   * Between these must be the air of the house, F: the lower one from the protocol, from memory; the
   * upper one ends the published targets of the air split, and a hotter house is still pulled down.
   */
  returnDegFMin: 70,
  returnDegFMax: 80,
} as const;
