import { secondaryAmps } from './transformer.ts';

export type FuseFit = 'fits' | 'too_large' | 'too_small';

/**
 * The fuse found in a control board beside the size the board is printed with: never a larger one,
 * as it then protects nothing. A smaller one is safe but opens by itself.
 * Source: common practice, no source. Worked: 5 A in a 3 A board -> too_large.
 */
export function boardFuseFit(fuse: { boardAmps: number; fittedAmps: number }): FuseFit {
  if (fuse.fittedAmps > fuse.boardAmps) return 'too_large';
  return fuse.fittedAmps < fuse.boardAmps ? 'too_small' : 'fits';
}

/**
 * Whether the transformer cannot open this fuse by an honest load, so that a blown one tells of a
 * short. Worked: 5 A behind 40 VA, which gives 1.67 A -> true.
 */
export function opensOnlyOnShort(fuseAmps: number, transformerVa: number): boolean {
  return fuseAmps > secondaryAmps(transformerVa);
}
