import type { FaultsInSpanish } from '../fault-in-spanish.ts';

const motor = {
  fed_and_stands: 'El motor recibe corriente y no funciona.',
  draws_too_much: 'Funcionando, el motor consume más que su corriente a plena carga.',
  runs_within_amps: 'El motor funciona y no consume más que su corriente a plena carga.',
  draws_current_and_stands:
    'Con corriente, un capacitor bueno y libre para girar, el motor consume más que al funcionar y no gira.',
} as const;

const fanRuns = 'El ventilador interior funciona.';
const blowerWindingOpen = 'El devanado del motor del soplador, en frío, marca abierto (OL).';

export const motorFaults = {
  failed_outdoor_fan_motor: {
    name: 'Motor del ventilador exterior dañado',
    explanation:
      'Un motor mueve el ventilador de la unidad exterior, que saca el calor de la casa. Cuando su devanado se quema o sus baleros se traban, el ventilador no gira o gira muy despacio; la unidad exterior se sobrecalienta y su compresor se apaga solo.',
    signs: {
      ...motor,
      winding_open: 'El devanado del motor del ventilador exterior, en frío, marca abierto (OL).',
      runs: 'El ventilador exterior funciona.',
      hard_to_turn: 'Sin corriente, el ventilador exterior no gira libremente con la mano.',
      both_motors_start_by_hand: 'Con el contactor empujado a mano arrancan los dos motores.',
      seized: 'El ventilador no gira libremente con la mano y nada bloquea su aspa.',
    },
  },
  seized_blower: {
    name: 'Soplador trabado',
    explanation:
      'El soplador mueve el aire de la casa por el serpentín. Cuando sus baleros se traban, la turbina ya no puede girar: el motor solo zumba, no sale aire por las rejillas, y el serpentín se puede congelar.',
    signs: {
      does_not_turn: 'Sin corriente, la turbina del soplador no gira libremente con la mano.',
      turns_freely: 'Sin corriente, la turbina del soplador gira libremente con la mano.',
      runs: fanRuns,
      wheel_blocked: 'Algo bloquea o roza la turbina del soplador.',
      seized: 'La turbina del soplador no gira libremente con la mano y nada la bloquea.',
    },
  },
  failed_blower_motor: {
    name: 'Motor del soplador dañado',
    explanation:
      'Un motor mueve el soplador que pasa el aire de la casa por el serpentín. Cuando su devanado se quema, el soplador no gira aunque tenga corriente: no sale aire por las rejillas, y el serpentín se puede congelar.',
    signs: { ...motor, winding_open: blowerWindingOpen, runs: fanRuns },
  },
  failed_blower_module: {
    name: 'Módulo de control del soplador dañado',
    explanation:
      'Un soplador con motor de velocidad controlada lleva un pequeño módulo electrónico que mueve el motor. Cuando el módulo falla, el soplador no gira aunque tenga corriente y la orden de funcionar: no sale aire por las rejillas, y el serpentín se puede congelar.',
    signs: {
      dead_to_test_signal:
        'Con corriente, turbina libre y devanado bueno, el soplador no funciona con una señal de prueba.',
      module_or_motor:
        'Con corriente, el soplador no funciona con una señal de prueba: es su módulo o su motor.',
      called_and_stands: 'El soplador tiene su voltaje de línea y su señal, y no funciona.',
      runs_on_test_signal:
        'Con una señal de prueba el soplador funciona: hay que revisar la tarjeta y los cables que le dan su señal.',
      winding_open: blowerWindingOpen,
      runs: fanRuns,
    },
  },
} as const satisfies FaultsInSpanish;
