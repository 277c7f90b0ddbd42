import type { FaultsInSpanish } from '../fault-in-spanish.ts';

const weighedLow =
  'La carga, recuperada y pesada, es menos de lo que piden la placa de datos y la tubería.';
const lowPattern =
  'Subenfriamiento bajo junto con al menos dos de: sobrecalentamiento alto, succión baja, descarga baja, poca diferencia de temperatura del aire.';
const chargeTestLow = 'La prueba de carga indica que falta refrigerante.';
const chargeTestLowAsSaid = {
  'The superheat is above its target and the subcooling is not high.':
    'El sobrecalentamiento está por encima de su objetivo y el subenfriamiento no está alto.',
  'The subcooling is below its target and no other reading denies it.':
    'El subenfriamiento está por debajo de su objetivo y ninguna otra lectura lo contradice.',
};
const chargeTestOver = 'La prueba de carga indica que sobra refrigerante.';

export const refrigerantFaults = {
  low_charge: {
    name: 'Falta de refrigerante',
    explanation:
      'El sistema saca el calor de la casa con un refrigerante que da vueltas en un circuito sellado. Nunca se gasta: si falta, se fuga por algún lado o entró muy poco al principio. Con muy poco, la casa se enfría menos y el compresor trabaja caliente.',
    signs: {
      weighed_low: weighedLow,
      low_by_all_readings:
        'Subenfriamiento bajo y sobrecalentamiento alto a la vez, succión y descarga no altas, con el flujo de aire verificado y sin restricción en el filtro deshidratador.',
      low_pattern: lowPattern,
      charge_test_low: chargeTestLow,
      weighed_enough:
        'La carga, recuperada y pesada, es lo que piden la placa de datos y la tubería, o más.',
      charge_test_passed: 'El subenfriamiento no está bajo y el sobrecalentamiento no está alto.',
      subcooling_high: 'El subenfriamiento está alto.',
      charge_test_proves_low:
        'Subenfriamiento por debajo del de la placa de datos, sobrecalentamiento no bajo, succión y descarga no altas, con el flujo de aire verificado y sin restricción en el filtro deshidratador.',
    },
    signsAsSaid: chargeTestLowAsSaid,
  },
  overcharge: {
    name: 'Demasiado refrigerante',
    explanation:
      'El sistema trabaja con una cantidad fija de refrigerante. Con demasiado sube la presión en la unidad exterior, consume más electricidad para enfriar menos, y puede llegar líquido al compresor y dañarlo. Lo que sobra se saca y se guarda; nunca se suelta al aire.',
    signs: {
      weighed_over:
        'La carga, recuperada y pesada, es más de lo que piden la placa de datos y la tubería.',
      over_pattern:
        'Subenfriamiento alto y descarga alta junto con sobrecalentamiento bajo o succión alta.',
      charge_test_over: chargeTestOver,
      weighed_not_over: 'La carga, recuperada y pesada, no es más de lo que se pide.',
      charge_test_not_over: 'La prueba de carga no indica que sobre refrigerante.',
    },
    signsAsSaid: {
      'The superheat is below its target and the subcooling is high.':
        'El sobrecalentamiento está por debajo de su objetivo y el subenfriamiento está alto.',
      'The subcooling is above its target and no other reading denies it.':
        'El subenfriamiento está por encima de su objetivo y ninguna otra lectura lo contradice.',
      'The superheat is not below its target and the subcooling is not high.':
        'El sobrecalentamiento no está por debajo de su objetivo y el subenfriamiento no está alto.',
      'The subcooling is not above its target.':
        'El subenfriamiento no está por encima de su objetivo.',
    },
  },
  refrigerant_leak: {
    name: 'Fuga de refrigerante',
    explanation:
      'El sistema está sellado, y su refrigerante nunca se gasta. Donde una unión, un serpentín o una válvula tiene un hoyo, por pequeño que sea, se fuga el refrigerante y el sistema enfría cada vez menos. El refrigerante nuevo se fuga igual hasta que se encuentre y se cierre el hoyo.',
    signs: {
      bubbles: 'La solución para fugas hace burbujas en un lugar.',
      detector_alarms: 'El detector de fugas avisa dos veces en un mismo lugar.',
      alarms_and_bubbles:
        'El detector de fugas avisa en un lugar, y la solución para fugas hace burbujas.',
      alarms_and_charge_low:
        'El detector de fugas avisa dos veces en un mismo lugar, y falta refrigerante.',
      oil_seen: 'Se ve aceite en una unión del circuito de refrigerante.',
      weighed_low: weighedLow,
      low_pattern: lowPattern,
      charge_test_low: chargeTestLow,
      searched_in_vain:
        'Se revisó el circuito; ni el detector ni la solución para fugas mostraron un lugar.',
    },
    signsAsSaid: chargeTestLowAsSaid,
  },
  liquid_line_restriction: {
    name: 'Línea de líquido o filtro deshidratador restringido',
    explanation:
      'Un filtro en la línea de refrigerante entre la unidad exterior y la interior detiene la suciedad y la humedad. Cuando se tapa, o la línea está doblada, llega muy poco refrigerante al serpentín interior, y la casa se enfría menos aunque el sistema tenga suficiente.',
    signs: {
      drier_drop:
        'La línea de líquido está más de 3 °F más fría después del filtro deshidratador que antes.',
      restriction_pattern:
        'Subenfriamiento normal o alto junto con al menos dos de: sobrecalentamiento alto, succión baja, poca diferencia de temperatura del aire.',
      drier_clear:
        'La línea de líquido está igual de tibia después del filtro deshidratador que antes.',
      subcooling_low:
        'El subenfriamiento está bajo: lo que se detiene se juntaría antes de una restricción.',
    },
  },
  failed_metering_device: {
    name: 'Dispositivo de expansión dañado',
    explanation:
      'Una válvula pequeña antes del serpentín interior deja pasar justo el refrigerante que el serpentín puede evaporar. Cuando se atora o se tapa, el serpentín recibe muy poco y enfría mal, o demasiado, y llega líquido al compresor y lo puede dañar.',
    signs: {
      starving_pattern:
        'Sobrecalentamiento alto con buen subenfriamiento, y succión o diferencia de temperatura del aire baja.',
      flooding_pattern:
        'Sobrecalentamiento bajo con subenfriamiento normal, sin que descarga y succión digan otra cosa.',
      holds_superheat:
        'El sobrecalentamiento está donde el dispositivo de expansión lo debe mantener.',
      starves_and_does_not_follow:
        'Sobrecalentamiento alto con buen subenfriamiento, escarcha que empieza en la válvula, y la válvula no sigue a su bulbo bien fijo; flujo de aire y filtro deshidratador descartados.',
      floods_and_does_not_follow:
        'Sobrecalentamiento bajo con subenfriamiento y descarga normales, y la válvula no sigue a su bulbo bien fijo; flujo de aire descartado.',
      does_not_follow_bulb: 'Calentar el bulbo sensor con la mano no sube la presión de succión.',
      follows_bulb: 'Calentar el bulbo sensor con la mano sube la presión de succión.',
    },
  },
  loose_sensing_bulb: {
    name: 'Bulbo sensor suelto',
    explanation:
      'Un bulbo pequeño sobre el tubo de refrigerante le dice a la válvula del serpentín interior qué tan tibio está el tubo. Cuando se suelta o pierde su aislante siente el aire, y la válvula deja pasar demasiado refrigerante. Fijado y aislado de nuevo, trabaja como antes.',
    signs: {
      bulb_loose: 'El bulbo sensor de la válvula está suelto o sin aislante.',
      bulb_tight: 'El bulbo sensor está fijo y aislado.',
      superheat_high:
        'El sobrecalentamiento está alto, cuando un bulbo que siente aire tibio inundaría el serpentín.',
    },
  },
  dirty_outdoor_coil: {
    name: 'Serpentín exterior sucio',
    explanation:
      'El serpentín exterior le pasa el calor de la casa al aire de afuera. Cuando sus aletas están tapadas de polvo, pasto o pelusa pasa muy poco aire; sube la presión, el sistema enfría menos, consume más electricidad y se puede apagar solo en un día caluroso. Lavarlo devuelve el aire.',
    signs: {
      matted_and_head_high:
        'Una foto muestra tapado el serpentín exterior, y la presión de descarga está alta.',
      pressure_fell_when_dirt_cleared:
        'Se vio sucio el serpentín exterior, y ya limpio bajó la presión de descarga.',
      pressure_fell_when_cleared: 'Con el serpentín exterior limpio bajó la presión de descarga.',
      coil_dirty: 'El serpentín exterior está tapado de suciedad.',
      head_pattern:
        'Descarga alta y succión alta con subenfriamiento bajo mientras el ventilador exterior funciona.',
      pressure_did_not_fall:
        'Con el serpentín exterior limpio la presión de descarga siguió igual.',
      coil_clean: 'El serpentín exterior está limpio por todos lados.',
      head_not_high: 'La presión de descarga no está alta.',
    },
  },
  wrong_refrigerant: {
    name: 'Refrigerante equivocado',
    explanation:
      'El sistema está hecho para el único refrigerante que nombra su placa de datos. Otro, o una mezcla, tiene otras presiones: el sistema enfría mal, su aceite puede ya no llegar al compresor, y algunos son inflamables. Se saca todo, se le hace vacío al sistema y se carga el correcto por peso.',
    signs: {
      marked: 'Una etiqueta o una factura dice que se agregó otro refrigerante.',
      identified:
        'Un identificador muestra otro refrigerante que el de la placa de datos o la etiqueta de conversión.',
      impossible_superheat:
        'La línea de succión está más fría de lo que podría estar el refrigerante de la placa de datos a su presión.',
      impossible_subcooling:
        'La línea de líquido está más tibia de lo que podría estar el refrigerante de la placa de datos a su presión.',
      identified_as_right:
        'Un identificador muestra el refrigerante de la placa de datos o la etiqueta de conversión.',
      states_usual:
        'El sobrecalentamiento y el subenfriamiento son los usuales para el refrigerante de la placa de datos.',
    },
  },
} as const satisfies FaultsInSpanish;
