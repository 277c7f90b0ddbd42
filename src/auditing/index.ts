export { addedChances } from './statistics/added-chances.ts';
export { adjustedForMany } from './statistics/adjusted-for-many.ts';
export { binomialChances } from './statistics/binomial-chances.ts';
export {
  type Comparison,
  type ComparisonBounds,
  type Counted,
  compareWithOthers,
} from './statistics/compare-with-others.ts';
export { drawnChances, type Lot } from './statistics/drawn-chances.ts';
export { funnelLimit } from './statistics/funnel-limit.ts';
export { median } from './statistics/median.ts';
export { robustScores, STANDS_OUT_ABOVE } from './statistics/robust-scores.ts';
export { type ShareInterval, shareInterval } from './statistics/share-interval.ts';
export { upperTail } from './statistics/upper-tail.ts';
