import type { FaultsInSpanish } from '../fault-in-spanish.ts';

export const controlFaults = {
  open_control_fuse: {
    name: 'Fusible de control abierto',
    explanation:
      'Un fusible pequeño protege la tarjeta de control: se funde cuando pasa demasiada corriente, casi siempre porque dos cables de control se tocan, y entonces el termostato ya no puede mandar a funcionar el equipo. Un fusible nuevo devuelve el circuito de control. Qué lo fundió es otra pregunta.',
    signs: {
      reads_open: 'El fusible de control, sacado de la tarjeta, marca abierto (OL).',
      voltage_across_fuse: 'Hay voltaje de control entre los extremos del fusible.',
      element_seen_blown: 'Se ve fundido el hilo del fusible de control.',
      reads_closed: 'El fusible de control, sacado de la tarjeta, marca cerrado.',
      low_resistance: 'El fusible sacado tiene menos de 1 Ω.',
    },
    notTheCause:
      'Un fusible abierto no es la causa: casi siempre lo abre un corto en el circuito de control.',
  },
  thermostat_set_wrong: {
    name: 'Termostato mal ajustado',
    explanation:
      'El termostato pide frío solo cuando está en modo de enfriar y más bajo que la temperatura del cuarto. Ajustado de otra forma deja parado un equipo en buen estado. Ajustarlo bien no cuesta más que la revisión.',
    signs: {
      set_wrong_and_starts_when_set:
        'El termostato estaba mal ajustado, y bien ajustado el equipo empieza a enfriar.',
      found_set_wrong: 'El termostato estaba apagado, en calefacción o más alto que el cuarto.',
      found_set_right: 'El termostato estaba en modo de enfriar y más bajo que el cuarto.',
      does_not_start_when_set:
        'Puesto a enfriar más bajo que el cuarto, el equipo no empieza: otra cosa lo detiene.',
    },
    notTheCause:
      'Un mal ajuste no es causa de ninguna falla: nada está dañado mientras el equipo enfríe al ajustarlo bien.',
  },
  dead_thermostat_batteries: {
    name: 'Baterías del termostato agotadas',
    explanation:
      'Un termostato de baterías se apaga cuando se agotan y ya no puede pedir frío. Baterías nuevas lo devuelven a la vida; se gastan con el tiempo y nada se daña por eso.',
    signs: {
      flat_and_no_call: 'Las baterías están agotadas, y el termostato está apagado o no pide frío.',
      flat: 'Las baterías del termostato están agotadas.',
      low_battery_shown: 'El termostato avisa que sus baterías están bajas.',
      gives_its_call: 'El termostato pide frío.',
      fresh: 'Las baterías del termostato tienen carga suficiente.',
    },
    notTheCause:
      'Las baterías agotadas por sí solas no son causa de ninguna falla: hay que ver que el equipo enfríe con baterías nuevas.',
  },
  failed_thermostat: {
    name: 'Termostato dañado',
    explanation:
      'El termostato pide frío al unir dos de sus cables. Cuando falla por dentro ya no los une, aunque esté bien ajustado y tenga corriente; el equipo espera entonces una señal que nunca llega.',
    signs: {
      no_call_and_jumper_starts:
        'Con corriente, bien ajustado y esperado su retardo, no pide frío; con R unido a Y el equipo empieza a enfriar.',
      no_call_though_fed: 'Tiene sus 24 V, está puesto a enfriar y no pide frío.',
      jumper_starts:
        'Está puesto a enfriar; con R unido a Y en su base el equipo empieza a enfriar.',
      dark_though_fed:
        'Su pantalla está apagada aunque tiene sus 24 V y sus baterías están buenas.',
      gives_its_call: 'El termostato pide frío.',
      starts_when_set: 'Puesto a enfriar más bajo que el cuarto, el equipo empieza a enfriar.',
      jumper_starts_nothing:
        'Con R unido a Y en su base nada arranca: el problema está después del termostato.',
      batteries_flat: 'Sus baterías están bajas: primero van baterías nuevas.',
    },
  },
  control_short: {
    name: 'Corto en el cableado de control',
    explanation:
      'Un cable delgado lleva el bajo voltaje con el que se comunican el termostato y el equipo. Donde sus hilos están pelados o aplastados se tocan entre sí; entonces se funde el fusible de control o se cae el voltaje de control. Reparar el cable quita la causa, y el fusible nuevo aguanta.',
    signs: {
      cable_shorted:
        'El cable de control exterior, desconectado, tiene menos de 2 Ω de hilo a hilo.',
      wire_damaged_and_fuse_open:
        'Una foto muestra un cable de control dañado, y el fusible de control está abierto.',
      wire_damaged: 'Un cable de control está cortado, mordido o pelado.',
      cable_not_shorted:
        'El cable de control exterior, desconectado, no tiene corto de hilo a hilo.',
      cable_reads_open:
        'El cable de control exterior, desconectado, marca abierto (OL) de hilo a hilo.',
      call_stands: 'La señal de enfriar llega a la tarjeta interior con todo su voltaje.',
    },
  },
  broken_control_wire: {
    name: 'Cable de control roto',
    explanation:
      'Un cable delgado lleva la señal de enfriar del termostato a la unidad interior y de ahí a la exterior. Donde está cortado, corroído o suelto la señal no llega, y la unidad exterior se queda parada aunque nada en ella esté gastado.',
    signs: {
      lost_on_the_way_out:
        'La señal está en la tarjeta interior y no en la unidad exterior, y el interruptor de flotador la deja pasar.',
      lost_before_the_board:
        'La señal sale del termostato y no llega a la tarjeta interior, y el interruptor de flotador la deja pasar.',
      not_arriving: 'La señal está en la tarjeta interior y no en la unidad exterior.',
      wire_damaged: 'Un cable de control está cortado, mordido o pelado.',
      arrives: 'La señal de enfriar llega a la unidad exterior.',
      float_switch_open: 'El interruptor de flotador está abierto y corta esa misma señal.',
    },
  },
  failed_transformer: {
    name: 'Transformador de control dañado',
    explanation:
      'Un transformador pequeño convierte el voltaje de la casa en el bajo voltaje con el que trabajan el termostato y los controles. Cuando se quema su devanado, nada en el circuito de control tiene corriente y el equipo se queda parado.',
    signs: {
      dead_though_fed_fuse_good:
        'Alimentado con voltaje de línea no entrega nada; el fusible de control está bueno y su propio botón no está salido.',
      dead_though_fed: 'Alimentado con voltaje de línea no entrega nada.',
      gives_its_voltage: 'El transformador entrega su voltaje de control.',
      board_is_fed: 'La tarjeta tiene su voltaje de control.',
    },
  },
  overloaded_transformer: {
    name: 'Transformador de control sobrecargado',
    explanation:
      'Un transformador pequeño da el bajo voltaje para el termostato y los controles, y solo hasta cierta cantidad. Cuando lleva más de lo que puede, su voltaje se cae hasta que los interruptores vibran o se sueltan. Uno más grande, o menos carga, lo resuelve.',
    signs: {
      sags_above_its_rating:
        'Alimentado con voltaje de línea cae por debajo de 20 V y lleva más de su capacidad; se buscó un corto y el cable está sano.',
      above_its_rating: 'Lleva más de su capacidad.',
      within_its_rating: 'Lleva menos de su capacidad.',
      holds_its_voltage: 'Mantiene su voltaje.',
    },
  },
  failed_indoor_board: {
    name: 'Tarjeta de control interior dañada',
    explanation:
      'Una tarjeta de control en la unidad interior recibe la señal del termostato y enciende el ventilador interior. Cuando falla tiene corriente y señal, pero no sale nada: el ventilador no gira, y sin su aire el enfriamiento se congela o se detiene.',
    signs: {
      no_output:
        'Con corriente y señal de entrada, pasado su retardo y revisados sus conectores, no sale voltaje de ella.',
      motor_runs_without_it:
        'Con corriente y señal de entrada, pasado su retardo y revisados sus conectores, el ventilador no gira; con una señal de prueba en su lugar el motor funciona.',
      silent_though_called: 'Con su señal de entrada, no sale voltaje para el soplador.',
      burnt_or_wet: 'La tarjeta de control está quemada o mojada.',
      feeds_the_blower: 'Con su señal de entrada, alimenta el soplador.',
      fan_runs: 'El ventilador interior funciona.',
    },
  },
  failed_outdoor_board: {
    name: 'Tarjeta de control exterior dañada',
    explanation:
      'Algunas unidades exteriores tienen una tarjeta de control que recibe la señal de enfriar y la pasa al contactor de los motores. Cuando falla, la señal entra y no sale nada, y la unidad exterior se queda parada.',
    signs: {
      no_output:
        'La señal entra, los interruptores de presión están cerrados, pasó su retardo, y no sale nada.',
      silent_though_called:
        'La señal entra, el interruptor de alta presión está cerrado, y no sale nada.',
      feeds_the_contactor: 'La tarjeta pasa la señal al contactor.',
      pulls_in_on_call: 'Con su señal de entrada, el contactor que sigue está cerrado.',
      contactor_pulled_in: 'El contactor está cerrado.',
    },
  },
  open_high_pressure_switch: {
    name: 'Interruptor de alta presión abierto',
    explanation:
      'Un interruptor de presión detiene la unidad exterior antes de que la presión adentro sea peligrosa. Se abre cuando el calor no puede salir: suciedad en el serpentín exterior, un ventilador parado o demasiado refrigerante. Por qué subió la presión es lo que importa.',
    signs: {
      found_open: 'El interruptor de alta presión está abierto.',
      voltage_across_it:
        'Hay voltaje de control entre los extremos del interruptor de alta presión.',
      found_closed:
        'Con la señal en la unidad exterior, el interruptor de alta presión está cerrado.',
    },
    notTheCause:
      'Un interruptor de alta presión abierto no es la causa: algo subió la presión, y volver a cerrarlo no repara nada.',
  },
  failed_sensor: {
    name: 'Sensor de temperatura dañado',
    explanation:
      'Un sensor de temperatura es una pieza pequeña cuya resistencia eléctrica sigue la temperatura. Cuando se desvía o se rompe, los controles creen una temperatura que no existe y hacen funcionar el equipo a deshora o no lo hacen funcionar.',
    signs: {
      reported: 'El control reporta la falla de un sensor, y uno está fuera de su tabla.',
      coil_sensor_far_off:
        'El sensor de temperatura del serpentín, desconectado, está a más de 20% de su tabla.',
      coil_sensor_off:
        'El sensor de temperatura del serpentín, desconectado, está a más de 10% de su tabla.',
      air_sensor_far_off:
        'El sensor de temperatura del aire, desconectado, está a más de 20% de su tabla.',
      air_sensor_off:
        'El sensor de temperatura del aire, desconectado, está a más de 10% de su tabla.',
      follow: 'Cada sensor que se midió sigue su tabla.',
    },
  },
} as const satisfies FaultsInSpanish;
