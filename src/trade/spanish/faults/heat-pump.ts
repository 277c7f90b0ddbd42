import type { FaultsInSpanish } from '../fault-in-spanish.ts';

export const heatPumpFaults = {
  stuck_reversing_valve: {
    name: 'Válvula reversible atorada o con fuga interna',
    explanation:
      'Una bomba de calor enfría en verano y calienta en invierno al invertir su refrigerante, y una válvula en la unidad exterior lo invierte. Cuando la válvula se atora, el sistema sopla tibio cuando debe enfriar; cuando tiene fuga por dentro, el gas caliente da vueltas y queda poco frío.',
    signs: {
      fed_and_stays:
        'Su bobina buena tiene sus 24 V, el compresor ha hecho la presión para moverla, y en esos minutos no se mueve.',
      leaks_across:
        'Funcionando, con suficiente gas de regreso, el gas de succión se calienta más de 10 °F en la válvula.',
      warms_across: 'El gas de succión se calienta más de 5 °F en la válvula.',
      called_and_stays: 'Su bobina tiene sus 24 V y la válvula no cambia.',
      shifts_and_is_tight: 'Cambia cuando se le ordena y sus líneas de succión están iguales.',
      shifts: 'La válvula reversible cambia cuando se le ordena.',
    },
  },
  failed_reversing_valve_coil: {
    name: 'Bobina de la válvula reversible dañada',
    explanation:
      'Una bomba de calor pasa de calentar a enfriar con una válvula en la unidad exterior, y la mueve una bobina eléctrica. Cuando se rompe el alambre de la bobina, la válvula se queda donde está y el sistema puede calentar cuando debe enfriar. La bobina se cambia sin abrir el circuito de refrigerante.',
    signs: {
      coil_open: 'La bobina de la válvula reversible marca abierto (OL).',
      coil_shorted: 'La bobina tiene menos de 2 Ω.',
      fed_and_stays: 'La bobina tiene sus 24 V y la válvula no cambia.',
      coil_sound: 'La bobina no está abierta ni en corto.',
      valve_shifts: 'La válvula reversible cambia cuando se le ordena.',
    },
  },
  failed_defrost_control: {
    name: 'Control de descongelamiento dañado',
    explanation:
      'Una bomba de calor que calienta en un día frío junta escarcha en su serpentín exterior, y una tarjeta de control la derrite de vez en cuando al invertir el sistema por unos minutos. Cuando la tarjeta ya no lo hace, el serpentín se vuelve hielo y la calefacción se debilita.',
    signs: {
      forced_without_effect:
        'Con corriente, su serpentín bajo cero, un sensor bueno y una válvula que cambia, la tarjeta no empieza a descongelar cuando se le fuerza.',
      no_forced_defrost: 'Un descongelamiento forzado en la tarjeta no empieza.',
      coil_iced: 'En calefacción el serpentín exterior sigue con hielo grueso.',
      defrost_starts: 'Un descongelamiento forzado en la tarjeta empieza.',
    },
  },
} as const satisfies FaultsInSpanish;
