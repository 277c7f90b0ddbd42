import { binomialChances } from './binomial-chances.ts';

/**
 * The share below which a part `below` of all those lies who are like everybody, with so many
 * trials: one point of a funnel's edge. It is the exact binomial limit, with a straight line between
 * the counts so that the edge is smooth.
 *
 * Source: D. Spiegelhalter, "Funnel plots for comparing institutional performance", Statistics in
 * Medicine 24 (2005), appendix A.1.1, from memory.
 * @param share what everybody has, from 0 to 1
 * @param below 0.025 and 0.975 for the inner edges, 0.001 and 0.999 for the outer ones
 * @returns from 0 to 1
 */
export function funnelLimit(share: number, trials: number, below: number): number {
  const chances = binomialChances(trials, share);
  let upTo = 0;
  for (const [count, chance] of chances.entries()) {
    upTo += chance;
    if (upTo >= below) {
      const over = (upTo - below) / chance;
      return Math.min(1, Math.max(0, (count - over) / trials));
    }
  }
  return 1;
}
