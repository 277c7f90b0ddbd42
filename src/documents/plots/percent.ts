/**
 * A share as people write it: `12.5%`, `3%`. None and all are said of exactly none and all: what is a
 * hair away from them is `<0.1%` or `>99.9%`.
 */
export function percent(share: number): string {
  const tenths = Math.round(share * 1_000);
  if (share > 0 && tenths === 0) return '<0.1%';
  if (share < 1 && tenths === 1_000) return '>99.9%';
  return `${tenths / 10}%`;
}
