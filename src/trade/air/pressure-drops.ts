/**
 * Pressure across the filter, inches of water: a clean one takes less than `free`, and from
 * `restricts` on it takes half of what most blowers can give. Common practice, no source.
 */
export const filterDropInH2O = { free: 0.1, restricts: 0.25 } as const;

/**
 * Pressure across the wet indoor coil, inches of water: few clean coils take more than `restricts`,
 * hardly a dirty one less than `free`. Common practice, no source.
 */
export const coilDropInH2O = { free: 0.2, restricts: 0.35 } as const;
