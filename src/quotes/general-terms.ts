import type { PaperLanguage, PaperLegalText } from '../documents/index.ts';

/** Cautions that every paper carries: the usual ones of the trade, common practice. */
export const generalCautions: Record<PaperLanguage, readonly string[]> = {
  en: [
    'Do not open the equipment or its electrical panel: live voltage and stored charge can kill.',
    'If you smell gas or burning, or a carbon monoxide alarm sounds: get everyone out, then call 911.',
    'A breaker that trips again stays off until the cause is found.',
  ],
  es: [
    'No abra el equipo ni su tablero eléctrico: el voltaje y la carga eléctrica almacenada pueden matar.',
    'Si huele a gas o a quemado, o suena una alarma de monóxido de carbono: saque a todos y luego llame al 911.',
    'Un interruptor (breaker) que se dispara otra vez se queda apagado hasta encontrar la causa.',
  ],
};

/**
 * What the company promises by the way this paper is made. Texts that a jurisdiction asks for are
 * data of that jurisdiction and are confirmed by the owner's counsel.
 */
export const generalTerms: Record<PaperLanguage, readonly PaperLegalText[]> = {
  en: [
    {
      title: 'Your answer decides',
      text: 'No work beyond the visit starts before you accept an option in writing. You are billed for the option you accept and nothing beyond it; further work needs another written yes.',
    },
    {
      title: 'Rules that come first',
      text: 'Local codes, permits and licensed practice rule over anything in this quote. Your rights under consumer-protection law are not limited by it.',
    },
  ],
  es: [
    {
      title: 'Su respuesta decide',
      text: 'Ningún trabajo más allá de la visita empieza antes de que usted acepte una opción por escrito. Se le cobra la opción que acepte y nada más; otro trabajo necesita otro sí por escrito.',
    },
    {
      title: 'Reglas que tienen prioridad',
      text: 'Los códigos locales, los permisos y las normas del oficio con licencia tienen prioridad sobre todo lo que dice este presupuesto, y este no limita sus derechos según las leyes de protección al consumidor.',
    },
  ],
};
