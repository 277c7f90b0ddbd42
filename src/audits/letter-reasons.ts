/** Why something is given back, as a customer reads it. */
export interface LetterReason {
  readonly en: string;
  readonly es: string;
}

/** What the letter says of a rule by its code; in general terms of one that has no words here. */
export function letterReason(ruleCode: string): LetterReason {
  return letterReasons[ruleCode] ?? inGeneral;
}

const inGeneral: LetterReason = {
  en: 'Our bill came to more than it should have.',
  es: 'Nuestra factura fue más alta de lo que debía ser.',
};

/** By the code of the rule; each rule by which money can be owed has its own. */
export const letterReasons: Readonly<Record<string, LetterReason>> = {
  reset_billed_as_repair: {
    en: 'Something that only had to be switched back on was billed as a repair.',
    es: 'Algo que solo había que volver a conectar se cobró como una reparación.',
  },
  line_without_finding: {
    en: 'Work was billed for which our records do not show the need.',
    es: 'Se cobró un trabajo cuya necesidad no consta en nuestros registros.',
  },
  above_ceiling: {
    en: 'A charge was higher than our own price for that work allows.',
    es: 'Un cargo fue más alto de lo que permite nuestro propio precio para ese trabajo.',
  },
  differs_from_book: {
    en: 'A charge was higher than the one in our price book.',
    es: 'Un cargo fue más alto que el de nuestra lista de precios.',
  },
  access_charged_twice: {
    en: 'Opening up the same equipment was billed twice for one visit.',
    es: 'Abrir el mismo equipo se cobró dos veces en una sola visita.',
  },
  fee_not_credited: {
    en: 'The visit fee was to be credited against the repair, and was not credited in full.',
    es: 'La tarifa de visita debía acreditarse a la reparación y no se acreditó por completo.',
  },
  fee_charged_twice: {
    en: 'The visit fee was billed more often than it was owed.',
    es: 'La tarifa de visita se cobró más veces de las debidas.',
  },
  warranted_part_charged: {
    en: 'A part was billed that the manufacturer replaces under its warranty.',
    es: 'Se cobró una pieza que el fabricante reemplaza bajo su garantía.',
  },
  recall_charged: {
    en: 'Work was billed that our own warranty on an earlier repair covers.',
    es: 'Se cobró un trabajo que cubre nuestra propia garantía de una reparación anterior.',
  },
  tax_wrong: {
    en: 'The sales tax was more than is owed on this work.',
    es: 'El impuesto sobre las ventas fue más alto de lo que corresponde a este trabajo.',
  },
  parts_not_used: {
    en: 'More parts were billed than our records show were put in.',
    es: 'Se cobraron más piezas de las que constan como instaladas en nuestros registros.',
  },
  hours_beyond_clock: {
    en: 'More time was billed than we were there.',
    es: 'Se cobró más tiempo del que estuvimos allí.',
  },
};
