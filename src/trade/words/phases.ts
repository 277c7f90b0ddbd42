/** When something was read or seen. */
export const phaseWords = {
  found: 'Before any work; only this can prove a fault.',
  left: 'After the work.',
} as const;
