import type { FaultsInSpanish } from '../fault-in-spanish.ts';

export const contactorFaults = {
  worn_contactor: {
    name: 'Contactor gastado o dañado',
    explanation:
      'El contactor es el interruptor de uso pesado que conecta la unidad exterior a la corriente cada vez que el termostato pide frío. Cuando sus contactos están gastados o ya no cierra, los motores reciben muy poca corriente o nada.',
    signs: {
      drop_high: 'Un polo cerrado pierde más de 3 V.',
      drop_raised: 'Un polo cerrado pierde más de 0.5 V.',
      contacts_pitted:
        'Sus contactos están picados o quemados, y un polo cerrado pierde más de 0.5 V.',
      coil_fed_contacts_open: 'La bobina tiene sus 24 V y los contactos siguen abiertos.',
      coil_open: 'La bobina del contactor, desconectada, marca abierto (OL).',
      poles_clean: 'Cierra, y cada polo pierde cerca de 0 V bajo carga.',
    },
  },
  stuck_contactor: {
    name: 'Contactor pegado',
    explanation:
      'El contactor es el interruptor de uso pesado que conecta la unidad exterior a la corriente. Cuando sus contactos se sueldan o se atora, la unidad exterior sigue funcionando aunque el termostato ya esté satisfecho: gasta corriente, congela el serpentín interior y desgasta el compresor.',
    signs: {
      closed_without_voltage: 'Sigue cerrado y no se mide voltaje en su bobina.',
      stays_closed: 'El contactor sigue cerrado sin voltaje en su bobina.',
      lets_go: 'Sin voltaje en su bobina el contactor se abre.',
      found_open: 'El contactor estaba abierto: no se pega todas las veces.',
    },
  },
} as const satisfies FaultsInSpanish;
