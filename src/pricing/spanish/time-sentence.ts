import type { AccessLine, LaborLine } from '../priced-quote.ts';
import { ratioOf } from '../ratio.ts';
import { dollarsText } from '../words.ts';
import type { SpanishContext } from './spanish-context.ts';
import { codeInSpanish, minutesInSpanish } from './words.ts';

/** The labor of a task: minutes / 60 x rate x factor of the period. */
export function laborSentence(line: LaborLine, context: SpanishContext): string {
  return timeSentence(line, context);
}

/** The way to the work, or what is left of it after earlier documents of the visit. */
export function accessSentence(line: AccessLine, context: SpanishContext): string {
  const needs = context.work
    .filter(({ findingId }) => line.findingIds.includes(findingId))
    .map(({ accessMinutes }) => accessMinutes);
  const need = Math.max(line.minutes, ...needs);
  const sentence = timeSentence(line, context);
  if (need === line.minutes)
    return `${sentence} Se cobra una sola vez para todo el trabajo en este lugar.`;
  const paid = minutesInSpanish(need - line.minutes);
  return `${minutesInSpanish(need)} de acceso, menos ${paid} que ya se cobraron en esta visita: ${sentence}`;
}

function timeSentence(
  { minutes, amountCents }: LaborLine | AccessLine,
  { inputs: { period }, laborRateCents }: SpanishContext,
): string {
  const { numerator, denominator } = ratioOf(period.laborFactor);
  const isPlain = numerator === denominator;
  const factor = isPlain ? '' : ` x ${period.laborFactor} (${codeInSpanish(period.code)})`;
  return `${minutesInSpanish(minutes)} / 60 x ${dollarsText(laborRateCents)} por hora${factor} = ${dollarsText(amountCents)}.`;
}
