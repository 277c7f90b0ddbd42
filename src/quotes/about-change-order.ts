import type { PaperLegalText } from '../documents/index.ts';

/**
 * What the paper of a change order says of the quote that it adds to: what was paid there once is
 * neither charged nor credited again. The credit of the visit fee was worked out on the first
 * document alone, so no later labor raises it, and none is taken back.
 */
export function aboutChangeOrder(quoteNumber: number, language: 'en' | 'es'): PaperLegalText {
  return TEXTS[language](quoteNumber);
}

const TEXTS: Record<'en' | 'es', (quoteNumber: number) => PaperLegalText> = {
  en: (number) => ({
    title: `Change order to quote ${number}`,
    text: `This adds to quote ${number}, which you accepted and which stands as it is. It charges no visit fee. A credit of the visit fee is on quote ${number} alone; this change order gives none and takes none back. Access that you agreed to pay for on the same visit is not charged again.`,
  }),
  es: (number) => ({
    title: `Orden de cambio del presupuesto ${number}`,
    text: `Esto se suma al presupuesto ${number}, que usted aceptó y que sigue vigente. No cobra tarifa de visita. El crédito por la tarifa de visita está solo en el presupuesto ${number}; esta orden de cambio no da otro ni quita aquel. El acceso que usted ya aceptó pagar en la misma visita no se cobra otra vez.`,
  }),
};
