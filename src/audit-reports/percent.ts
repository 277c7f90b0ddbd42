/** A share as people write it: `12.5%`, `0.4%`, `3%`. */
export function percent(share: number): string {
  return `${Math.round(1_000 * share) / 10}%`;
}
