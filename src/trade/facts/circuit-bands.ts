/** From low to high is usual; outside it a state of the circuit is low or high. */
export type UsualBand = { lowDegF: number; highDegF: number };

/**
 * How far the suction saturation is below the return air of a sound system, F: about 35 at 400 CFM
 * per ton and 75 F of return air. Common practice, no source; a smaller figure is a high suction.
 */
export const returnOverSuctionBand: UsualBand = { lowDegF: 30, highDegF: 40 };

/** Where the return air was not measured: a coil freezes below and hardly dries the air above. */
export const suctionSaturationBand: UsualBand = { lowDegF: 32, highDegF: 50 };
