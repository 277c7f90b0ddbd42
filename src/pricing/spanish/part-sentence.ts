import type { GoodLine, PartLine } from '../priced-quote.ts';
import { dollarsText, measuredText } from '../words.ts';

/** A part sold by the piece: unit price x quantity. */
export function partSentence({ quantity, unitPriceCents, amountCents }: PartLine): string {
  const each = dollarsText(unitPriceCents);
  return quantity === 1
    ? `1 pieza a ${each}.`
    : `${quantity} x ${each} cada una = ${dollarsText(amountCents)}.`;
}

/** Goods sold by measure: one price for the whole quantity. */
export function goodSentence({ measured, unit, amountCents }: GoodLine): string {
  return `${measuredText(measured, unit)} por ${dollarsText(amountCents)}.`;
}
