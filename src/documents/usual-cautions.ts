import type { PaperLanguage } from './paper-parts.ts';

/** Cautions that every paper carries, frozen with it: the usual ones of the trade, common practice. */
export const usualCautions: Record<PaperLanguage, readonly string[]> = {
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
