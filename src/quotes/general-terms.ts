import type { PaperLanguage, PaperLegalText } from '../documents/index.ts';

/**
 * What the company promises by the way this paper is made. Texts that a jurisdiction asks for are
 * data of that jurisdiction and are confirmed by the owner's counsel.
 */
export const generalTerms: Record<PaperLanguage, readonly PaperLegalText[]> = {
  en: [
    {
      title: 'Your answer decides',
      text: 'No work beyond the visit starts before you accept an option and we have your yes on record. You are billed for the option you accept and nothing beyond it; further work needs another quote and another yes.',
    },
    {
      title: 'Rules that come first',
      text: 'Local codes, permits and licensed practice rule over anything in this quote. Your rights under consumer-protection law are not limited by it.',
    },
  ],
  es: [
    {
      title: 'Su respuesta decide',
      text: 'Ningún trabajo más allá de la visita empieza antes de que usted acepte una opción y su sí quede registrado. Se le cobra la opción que acepte y nada más; otro trabajo necesita otro presupuesto y otro sí.',
    },
    {
      title: 'Reglas que tienen prioridad',
      text: 'Los códigos locales, los permisos y las normas del oficio con licencia tienen prioridad sobre todo lo que dice este presupuesto, y este no limita sus derechos según las leyes de protección al consumidor.',
    },
  ],
};
