/** The subcooling to charge to, what may be taken for right, and where the figure comes from. */
export type TargetSubcooling = {
  degF: number;
  lowDegF: number;
  highDegF: number;
  basis: 'nameplate' | 'common_practice';
};

/**
 * Target subcooling in F of a system with an expansion valve: what its nameplate says, within 3 F
 * (the limit below from the California field-verification protocol RA3.2, the one above from memory
 * of it); without a figure 10 F, anything from 8 to 12 F being usual (common practice, no source).
 * Worked: plate 9 F -> 9 F (6 to 12); measured 4.5 F is 4.5 F under it: low. No figure -> 10 F (8
 * to 12).
 */
export function targetSubcooling(nameplateDegF: number | undefined): TargetSubcooling {
  if (nameplateDegF === undefined) {
    return { degF: 10, lowDegF: 8, highDegF: 12, basis: 'common_practice' };
  }
  return {
    degF: nameplateDegF,
    lowDegF: nameplateDegF - subcoolingToleranceDegF,
    highDegF: nameplateDegF + subcoolingToleranceDegF,
    basis: 'nameplate',
  };
}

const subcoolingToleranceDegF = 3;
