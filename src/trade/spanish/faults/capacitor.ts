import type { FaultsInSpanish } from '../fault-in-spanish.ts';

const capacitance = {
  failed: 'La capacitancia está más de 10% por debajo de su valor nominal.',
  out_of_tolerance: 'La capacitancia está fuera de la tolerancia de su etiqueta.',
  within_tolerance: 'La capacitancia está dentro de la tolerancia de su etiqueta.',
} as const;

const byHand =
  'Con el contactor empujado a mano arrancan los dos motores: el capacitor no está muerto, aunque puede estar débil.';

export const capacitorFaults = {
  run_capacitor_herm: {
    name: 'Capacitor de marcha débil o dañado, sección del compresor',
    explanation:
      'El capacitor de marcha le da al motor del compresor el impulso que necesita para arrancar y funcionar sin sobrecalentarse. Uno fuera de sus límites hace que el compresor batalle, se sobrecaliente o no arranque. Es una pieza pequeña que se gasta con el calor y los años.',
    signs: {
      ...capacitance,
      bulged_or_leaking: 'El capacitor que sirve al compresor está inflado o tira aceite.',
      both_motors_start_by_hand: byHand,
    },
  },
  run_capacitor_fan: {
    name: 'Capacitor de marcha débil o dañado, sección del ventilador',
    explanation:
      'El capacitor de marcha le da al motor del ventilador exterior el impulso que necesita para arrancar y mantener su velocidad. Uno fuera de sus límites hace que el ventilador gire muy despacio o no gire, y la unidad exterior se sobrecalienta. Es una pieza pequeña que se gasta con el calor y los años.',
    signs: {
      ...capacitance,
      bulged_or_leaking:
        'El capacitor que sirve al ventilador exterior está inflado o tira aceite.',
      both_motors_start_by_hand: byHand,
    },
  },
  run_capacitor_blower: {
    name: 'Capacitor de marcha del soplador débil o dañado',
    explanation:
      'El capacitor de marcha le da al motor del soplador interior el impulso que necesita para arrancar y mantener su velocidad. Uno fuera de sus límites deja que el soplador gire muy despacio o no gire: sale poco aire por las rejillas, y el serpentín se puede congelar. Es una pieza pequeña que se gasta con el calor y los años.',
    signs: {
      ...capacitance,
      bulged_or_leaking: 'El capacitor que sirve al soplador está inflado o tira aceite.',
    },
  },
  failed_start_device: {
    name: 'Dispositivo de arranque dañado',
    explanation:
      'Un dispositivo de arranque le da al compresor un impulso extra en el primer momento de cada arranque: un capacitor, y un relevador que lo saca después. Cuando el capacitor falla el compresor no arranca; cuando el relevador se pega, el impulso sigue y quema el capacitor y el motor.',
    signs: {
      outside_marking: 'El capacitor de arranque está fuera del rango que tiene marcado.',
      stays_in_circuit:
        'El capacitor de arranque se queda en el circuito cuando el compresor ya funciona.',
      burnt: 'El capacitor de arranque o su relevador está quemado o inflado.',
      inside_marking_and_released:
        'El capacitor de arranque está dentro de lo marcado y sale del circuito después del arranque.',
    },
  },
  hard_starting_compressor: {
    name: 'Compresor que batalla para arrancar',
    explanation:
      'Un compresor gastado, o que arranca contra alta presión, puede necesitar más impulso del que da su capacitor de marcha, aunque todo alrededor esté bien. Un dispositivo de arranque agrega ese impulso en el primer momento de cada arranque. No le sirve a un compresor que arranca solo, ni a uno que ya falló.',
    signs: {
      starts_only_with_help:
        'Descansado y bien alimentado, con un capacitor de marcha bueno y sin fuga a tierra, el compresor no arranca solo y arranca con un dispositivo de arranque de prueba.',
      starts_with_test_device:
        'Con un dispositivo de arranque puesto de prueba el compresor arranca.',
      run_capacitor_at_fault:
        'El capacitor de marcha del compresor está mal; eso solo ya lo hace batallar para arrancar.',
      test_device_does_not_help:
        'Con un dispositivo de arranque puesto de prueba el compresor tampoco arranca.',
    },
  },
} as const satisfies FaultsInSpanish;
