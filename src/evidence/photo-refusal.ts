import type { PhotoSize } from './photo-size.ts';

/** What a photo may be, in pixels. */
export const photoLimits = {
  /** Of the shorter side: with less, no figure on a meter's face can be read. */
  sidePxMin: 200,
  /** Of either side, and in all: a picture that whoever opens it can still unfold in memory. */
  sidePxMax: 12_000,
  pixelsMax: 60_000_000,
} as const;

/** Why a photo is of no use as evidence, as a word and in a sentence. */
export interface PhotoRefusal {
  reason: 'too_small' | 'too_large';
  message: string;
}

/** Why a photo of this size is not kept; undefined when it is. */
export function photoRefusal({ widthPx, heightPx }: PhotoSize): PhotoRefusal | undefined {
  const { sidePxMin, sidePxMax, pixelsMax } = photoLimits;
  const is = `The photo is ${widthPx} by ${heightPx} pixels`;
  if (Math.min(widthPx, heightPx) < sidePxMin) {
    const message = `${is}; with less than ${sidePxMin} on a side, nothing on it can be read.`;
    return { reason: 'too_small', message };
  }
  if (Math.max(widthPx, heightPx) > sidePxMax || widthPx * heightPx > pixelsMax) {
    const most = `${sidePxMax} on a side and ${pixelsMax / 1e6} megapixels in all`;
    return { reason: 'too_large', message: `${is}; the most is ${most}.` };
  }
  return undefined;
}
