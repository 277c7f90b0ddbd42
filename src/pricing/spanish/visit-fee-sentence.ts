import type { VisitFeeLine } from '../priced-quote.ts';
import { dollarsText } from '../words.ts';
import type { SpanishContext } from './spanish-context.ts';

/** Why the visit has its fee, or none. */
export function visitFeeSentence(
  { amountCents }: VisitFeeLine,
  { inputs: { visitFee } }: SpanishContext,
): string {
  if (!visitFee.chargeable) return `Sin tarifa de visita: ${reasonInSpanish(visitFee.reason)}.`;
  return `La tarifa de este viaje, como se le dijo al reservar la visita: ${dollarsText(amountCents)}.`;
}

/** The reasons that the rules give are known; any other was written by a person and stays. */
function reasonInSpanish(reason: string): string {
  const [, quoteNumber] = /^charged with quote (\d+)$/.exec(reason) ?? [];
  if (quoteNumber !== undefined) return `se cobró con el presupuesto ${quoteNumber}`;
  const [, ticketNumber] = /^one fee for the trip, with ticket (\d+)$/.exec(reason) ?? [];
  if (ticketNumber !== undefined) {
    return `una sola tarifa por el viaje, con la orden de servicio ${ticketNumber}`;
  }
  return reasonsOfRules.get(reason) ?? reason;
}

const reasonsOfRules: ReadonlyMap<string, string> = new Map([
  ['coming back for accepted work has no fee', 'volver por un trabajo aceptado no tiene tarifa'],
  ['a callback has no fee', 'volver por el mismo problema no tiene tarifa'],
  [
    'it was booked without one, and we moved it',
    'se reservó sin ella y la cita la cambiamos nosotros',
  ],
  ['maintenance under the agreement has no fee', 'el mantenimiento del contrato no tiene tarifa'],
  [
    'no fee for mending our own work again',
    'reparar de nuevo nuestro propio trabajo no tiene tarifa',
  ],
]);
