import type { z } from 'zod';
import type { newConsumerRuleSchema } from '../src/consumer-rules/index.ts';

/**
 * Rules of the invented county. The right to cancel is worded after 16 CFR 429.1, from memory; like
 * every such text it is to be confirmed by the owner's counsel before a customer sees it.
 */
export const consumerRules: readonly z.input<typeof newConsumerRuleSchema>[] = [
  {
    jurisdiction: 'quill_county',
    code: 'home_sale_cancel_right',
    effectiveFrom: '2020-01-01',
    content: {
      kind: 'cancel_right',
      appliesFromCents: 2_500,
      source: '16 CFR 429.1, from memory',
      days: 3,
      closedWeekdays: [7],
      federalHolidays: true,
      holidays: [],
      title: { en: 'Your right to cancel', es: 'Su derecho a cancelar' },
      text: {
        en:
          'You, the buyer, may cancel this transaction at any time prior to midnight of the third ' +
          'business day after the date you accept. Saturdays count; Sundays and federal holidays do ' +
          'not. To cancel, use the page behind your link, or write to {company}, {address}, or call ' +
          '{phone}. You pay nothing for work that was not done.',
        es:
          'Usted, el comprador, puede cancelar esta transacción en cualquier momento antes de la ' +
          'medianoche del tercer día hábil después de la fecha en que acepte. Los sábados cuentan; ' +
          'los domingos y los días feriados federales no. Para cancelar, use la página de su enlace, ' +
          'escriba a {company}, {address}, o llame al {phone}. No paga nada por trabajo que no se hizo.',
      },
    },
  },
  {
    jurisdiction: 'quill_county',
    code: 'written_estimate',
    effectiveFrom: '2020-01-01',
    content: {
      kind: 'written_terms',
      appliesFromCents: 50_000,
      source: 'invented; several states ask for a written contract from about 500 dollars on',
      title: { en: 'Written terms of this work', es: 'Condiciones por escrito de este trabajo' },
      text: {
        en:
          'The price above is fixed: it does not rise without your written yes. No payment is due ' +
          'before the work is complete. The parts we take out are yours if you want them. Licensed ' +
          'as {license}; complaints go to {regulator}.',
        es:
          'El precio de arriba es fijo: no sube sin su sí por escrito. No se debe pagar nada antes de ' +
          'que el trabajo esté terminado. Las piezas que retiramos son suyas si las quiere. Licencia ' +
          '{license}; las quejas se dirigen a {regulator}.',
      },
    },
  },
];
