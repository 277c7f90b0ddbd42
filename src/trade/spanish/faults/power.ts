import type { FaultsInSpanish } from '../fault-in-spanish.ts';

export const powerFaults = {
  tripped_breaker: {
    name: 'Interruptor (breaker) disparado',
    explanation:
      'El interruptor (breaker) se apaga solo cuando pasa demasiada corriente, para proteger los cables; el equipo conectado a él se queda sin corriente. Al restablecerlo vuelve a encender. Qué lo hizo disparar es otra pregunta.',
    signs: {
      found_tripped: 'El interruptor (breaker) estaba disparado.',
      trips_again:
        'El interruptor (breaker) se volvió a disparar después de restablecerlo; por eso se queda apagado hasta reparar la causa.',
      line_voltage_missing: 'No llega voltaje de línea al equipo.',
      found_on: 'El interruptor (breaker) estaba encendido.',
    },
    notTheCause:
      'Un interruptor (breaker) disparado no es la causa: casi siempre algo consumió demasiada corriente; pocas veces el interruptor mismo está débil.',
  },
  weak_breaker: {
    name: 'Interruptor (breaker) débil',
    explanation:
      'Un interruptor (breaker) se desgasta con los años, el calor y los disparos. Uno gastado se calienta y se apaga aunque el equipo no consuma más de lo debido. Cambiarlo es trabajo en el tablero eléctrico, para un electricista con licencia.',
    signs: {
      drop_high: 'El interruptor cerrado pierde más de 0.3 V bajo carga.',
      hot_or_buzzing: 'El interruptor está caliente o zumba.',
      trips_below_its_marking:
        'Se vuelve a disparar aunque pasa menos corriente de la que tiene marcada.',
      trips_above_its_marking:
        'Se vuelve a disparar porque pasa más corriente de la que tiene marcada.',
      drop_low: 'El interruptor cerrado pierde menos de 0.3 V bajo carga.',
      holds_under_load: 'El interruptor aguanta con todo funcionando.',
    },
  },
  wrong_breaker_size: {
    name: 'Interruptor (breaker) de tamaño incorrecto',
    explanation:
      'El interruptor (breaker) protege los cables y el equipo, y debe corresponder a la etiqueta del equipo. Uno demasiado grande deja que los cables y motores se sobrecalienten antes de apagarse. Uno demasiado chico se apaga en un día caluroso aunque nada esté dañado. Cambiarlo es trabajo para un electricista con licencia.',
    signs: {
      above_mocp: 'El interruptor es más grande de lo que permite la placa de datos (MOCP).',
      below_mca: 'El interruptor es más chico que el circuito que pide la placa de datos (MCA).',
      fits_plate: 'El interruptor está entre el MCA y el MOCP de la placa de datos.',
    },
  },
  low_supply_voltage: {
    name: 'Voltaje de alimentación bajo',
    explanation:
      'Un motor necesita el voltaje que pide su etiqueta. Con menos le cuesta arrancar, consume más corriente, se sobrecalienta y se apaga solo, sobre todo en días calurosos cuando todos usan el aire acondicionado. Entonces hay que revisar la alimentación de la casa o de la calle, no el motor.',
    signs: {
      low_before_the_disconnect:
        'El voltaje ya está por debajo del mínimo de la placa de datos antes del desconectador, y no lo pierden ni el interruptor ni las conexiones.',
      low_at_the_unit: 'El voltaje en el equipo está por debajo del mínimo de la placa de datos.',
      enough_under_load:
        'Bajo carga, el voltaje en el equipo está por encima del mínimo de la placa de datos.',
    },
  },
  open_disconnect: {
    name: 'Desconectador abierto',
    explanation:
      'El desconectador es el interruptor junto al equipo que le quita la corriente para trabajar con seguridad. Cuando está apagado o sacado, nada puede funcionar. Al ponerlo de nuevo vuelve la corriente. Por qué estaba apagado es otra pregunta.',
    signs: {
      found_open: 'El desconectador estaba apagado o sacado.',
      nothing_leaves_it: 'El voltaje de línea llega al desconectador y nada llega al equipo.',
      found_on: 'El desconectador estaba encendido y bien puesto.',
    },
    notTheCause:
      'Un desconectador abierto no es la causa: alguien lo apagó o no hace buen contacto.',
  },
  open_disconnect_fuse: {
    name: 'Fusible abierto del desconectador',
    explanation:
      'Un fusible del interruptor junto al equipo se funde cuando pasa demasiada corriente, para proteger los cables; el equipo se queda sin corriente. Fusibles nuevos del mismo tamaño la devuelven. Qué fundió el fusible es otra pregunta.',
    signs: {
      reads_open: 'Un fusible del desconectador, ya sacado, marca abierto (OL).',
      voltage_across_first_fuse: 'Hay voltaje de línea entre los extremos del primer fusible.',
      voltage_across_second_fuse: 'Hay voltaje de línea entre los extremos del segundo fusible.',
      nothing_leaves_it: 'El voltaje de línea llega al desconectador y nada llega al equipo.',
      reads_closed: 'Cada fusible del desconectador, ya sacado, marca cerrado.',
    },
    notTheCause:
      'Un fusible abierto no es la causa: casi siempre algo consumió demasiada corriente; pocas veces se calentaron sus contactos.',
  },
  burnt_line_connection: {
    name: 'Conexión de línea floja o quemada',
    explanation:
      'Un cable flojo en su tornillo se calienta con la corriente, y el calor lo afloja más hasta que se quema. El equipo recibe entonces muy poco voltaje o nada. Cortado hasta el cobre sano y apretado de nuevo, vuelve a llevar su corriente.',
    signs: {
      burnt_and_passes_nothing:
        'Una conexión está quemada, y el voltaje de línea se pierde entre el desconectador cerrado, con fusibles buenos, y el equipo.',
      seen_burnt: 'Una conexión de línea está quemada o descolorida.',
      drop_high: 'Una conexión de línea pierde más de 1 V bajo carga.',
      drop_raised: 'Una conexión de línea pierde más de 0.5 V bajo carga.',
      drop_low: 'La conexión de línea que se midió pierde menos de 0.5 V bajo carga.',
      looks_sound: 'Se revisaron todas las conexiones de línea y ninguna está quemada.',
    },
  },
} as const satisfies FaultsInSpanish;
