/** The unit that keeps a resistance short, and how many ohms it holds. */
export function ohmUnit(ohms: number): { unit: string; size: number } {
  if (ohms >= 1e6) return { unit: 'MΩ', size: 1e6 };
  return ohms >= 1e4 ? { unit: 'kΩ', size: 1e3 } : { unit: 'Ω', size: 1 };
}
