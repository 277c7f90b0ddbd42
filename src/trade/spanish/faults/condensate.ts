import type { FaultsInSpanish } from '../fault-in-spanish.ts';

export const condensateFaults = {
  plugged_drain: {
    name: 'Drenaje de condensado tapado',
    explanation:
      'Al enfriar, el equipo saca agua del aire, y esa agua sale por un tubo de drenaje. El lodo y la suciedad lo pueden tapar; el agua se queda entonces en la charola hasta que se derrama o un interruptor de seguridad detiene el enfriamiento. Al destapar el tubo el agua vuelve a salir.',
    signs: {
      pan_full: 'La charola de drenaje está llena.',
      does_not_flow: 'El agua que se vierte en el drenaje no sale.',
      blockage_drawn_out: 'Se sacó una obstrucción del drenaje.',
      pan_dry: 'La charola de drenaje está seca.',
      flows_freely: 'El agua que se vierte en el drenaje sale libremente.',
    },
  },
  open_float_switch: {
    name: 'Interruptor de flotador abierto',
    explanation:
      'Un interruptor de flotador detiene el enfriamiento cuando hay agua en la charola de drenaje, para que no se derrame. Se cierra de nuevo cuando el agua sale. Qué lo abrió es otra pregunta.',
    signs: {
      no_voltage_after_it:
        'Con el termostato pidiendo frío, llegan 24 V al interruptor y no sale nada.',
      float_raised: 'El flotador del interruptor está levantado.',
      passes_voltage: 'El interruptor deja pasar sus 24 V.',
    },
    notTheCause:
      'Un interruptor de flotador abierto no es la causa: casi siempre hay agua en la charola; pocas veces se atora el interruptor mismo.',
  },
  failed_float_switch: {
    name: 'Interruptor de flotador dañado',
    explanation:
      'Un interruptor de flotador detiene el enfriamiento cuando hay agua en la charola de drenaje. Cuando el interruptor mismo falla o su flotador se atora, detiene el enfriamiento aunque la charola esté seca. Uno nuevo protege la casa del agua como antes.',
    signs: {
      open_over_dry_pan:
        'La charola está seca, el flotador está abajo y libre, llegan 24 V al interruptor y no sale nada.',
      float_sticks: 'El flotador del interruptor se atora aunque la charola está seca.',
      passes_though_raised:
        'El flotador está levantado y el interruptor deja pasar sus 24 V: dejaría que la charola se derramara.',
      passes_with_float_down: 'Con su flotador abajo, el interruptor deja pasar sus 24 V.',
      open_over_full_pan: 'La charola está llena y el interruptor abierto: hace su trabajo.',
    },
  },
  failed_condensate_pump: {
    name: 'Bomba de condensado dañada',
    explanation:
      'Una bomba pequeña saca de la casa el agua del serpentín donde no puede salir por sí sola. Cuando la bomba falla, su tanque se llena; entonces un interruptor de seguridad detiene el enfriamiento, o el tanque se derrama.',
    signs: {
      fed_and_filled_and_stands: 'Con corriente y el tanque lleno, la bomba no funciona.',
      does_not_run: 'Con el tanque lleno, la bomba no funciona.',
      runs: 'La bomba de condensado funciona cuando su tanque se llena.',
      not_fed: 'La bomba no tiene voltaje: una en buen estado tampoco funcionaría.',
    },
  },
  cracked_drain_pan: {
    name: 'Charola de drenaje rota',
    explanation:
      'Una charola debajo del serpentín recoge el agua que el enfriamiento saca del aire. Cuando se rompe o se oxida, el agua cae fuera del drenaje: al techo de abajo, o a una segunda charola cuyo interruptor de seguridad detiene el enfriamiento.',
    signs: {
      cracked: 'La charola de drenaje está rota o perforada por el óxido.',
      looks_whole: 'Se revisó la charola de drenaje y no está rota ni perforada por el óxido.',
    },
  },
} as const satisfies FaultsInSpanish;
