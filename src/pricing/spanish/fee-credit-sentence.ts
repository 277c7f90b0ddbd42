import type { CreditLine, Line } from '../priced-quote.ts';
import { multiply, ratioOf, wholeRatio } from '../ratio.ts';
import { roundHalfUpToCents } from '../round-half-up-to-cents.ts';
import { dollarsText, percentText } from '../words.ts';
import type { SpanishContext } from './spanish-context.ts';

/** Why this much of the visit fee is given back when work is accepted. */
export function feeCreditSentence(
  line: CreditLine,
  { lines, inputs: { policy } }: SpanishContext,
): string {
  const charged = lines.filter(({ kind }) => kind !== 'credit' && kind !== 'tax');
  const feeCents = sumOfClass(charged, 'visit_fee');
  const timeCents = sumOfClass(charged, 'labor') + sumOfClass(charged, 'access');
  const share = policy.visitFeeCreditShare;
  const shareCents = roundHalfUpToCents(multiply(wholeRatio(feeCents), ratioOf(share)));
  const creditCents = -line.amountCents;
  const wish = `Se acredita el ${percentText(share)} de la tarifa de visita de ${dollarsText(feeCents)} al aceptar el trabajo`;
  const amount = dollarsText(creditCents);
  if (creditCents === shareCents) return `${wish}: ${amount}.`;
  if (creditCents === timeCents) {
    return `${wish}, hasta la mano de obra y el acceso cobrados: ${amount}.`;
  }
  return `${wish}, sin que aceptar cueste menos que rechazar: ${amount}.`;
}

function sumOfClass(lines: readonly Line[], wanted: Line['class']): number {
  return lines
    .filter((line) => line.class === wanted)
    .reduce((sum, { amountCents }) => sum + amountCents, 0);
}
