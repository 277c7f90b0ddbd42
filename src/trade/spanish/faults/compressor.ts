import type { FaultsInSpanish } from '../fault-in-spanish.ts';

const runs = 'El compresor funciona.';

export const compressorFaults = {
  compressor_open_winding: {
    name: 'Devanado abierto en el compresor',
    explanation:
      'El compresor es la bomba del sistema de enfriamiento, y lo mueve un motor eléctrico sellado adentro. Cuando un alambre de ese motor, o el interruptor interno que lo protege del calor, queda roto, no puede pasar corriente y el motor ya no puede funcionar. No se puede abrir para repararlo.',
    signs: {
      run_to_start_open:
        'En sus propias terminales, desconectado, marca abierto (OL) de marcha a arranque.',
      run_to_start_reads_open: 'Marca abierto (OL) de marcha a arranque.',
      common_open_cold:
        'Apagado por horas hasta enfriarse, con un capacitor de marcha bueno, sigue abierto desde el común.',
      common_open_after_cooling: 'Después de dejarlo enfriar sigue abierto desde el común.',
      windings_closed: 'Puede pasar corriente entre las tres terminales.',
      runs,
    },
  },
  compressor_grounded: {
    name: 'Compresor a tierra',
    explanation:
      'El compresor es la bomba del sistema de enfriamiento, movida por un motor eléctrico sellado adentro. Cuando falla el aislamiento de ese motor, la corriente se fuga a la carcasa de metal: el interruptor (breaker) se dispara, de inmediato o cuando el daño crece. No se puede abrir para repararlo.',
    signs: {
      grounded: 'El aislamiento a tierra está por debajo de 100,000 Ω.',
      insulation_low: 'El aislamiento a tierra está por debajo de 1 MΩ.',
      insulation_sound: 'Un probador de aislamiento marca más de 2 MΩ a tierra.',
      reads_open_to_ground: 'Cada terminal del compresor marca abierto (OL) a tierra.',
      runs: 'El compresor funciona, y su interruptor (breaker) no se ha disparado desde entonces.',
    },
  },
  compressor_locked: {
    name: 'Compresor trabado',
    explanation:
      'El compresor es la bomba del sistema de enfriamiento. Cuando sus partes móviles se traban, el motor de adentro no puede girar: zumba, consume varias veces su corriente normal y se apaga en segundos. No se puede abrir para repararlo.',
    signs: {
      does_not_turn:
        'Descansado y bien alimentado, con devanados con continuidad y un capacitor de marcha bueno, sigue consumiendo cerca de la corriente de rotor bloqueado y no arranca, ni con un dispositivo de arranque.',
      near_locked_rotor: 'Consume cerca de la corriente de rotor bloqueado y no funciona.',
      hums: 'El compresor solo zumba.',
      starts_with_start_device:
        'Con un dispositivo de arranque puesto de prueba el compresor arranca.',
      runs,
    },
  },
  compressor_weak_valves: {
    name: 'Compresor débil',
    explanation:
      'El compresor es la bomba del sistema de enfriamiento. Cuando sus válvulas o espirales tienen fuga por dentro, funciona pero casi no bombea: la presión antes de él se queda alta, la presión después se queda baja, y la casa se enfría muy poco. No se puede abrir para repararlo.',
    signs: {
      full_pattern:
        'Succión alta y descarga baja al mismo tiempo, sobrecalentamiento bajo, subenfriamiento no bajo y corriente baja, con el flujo de aire verificado y ninguna otra causa.',
      pressures_close: 'La succión está alta y la descarga está baja al mismo tiempo.',
      builds_its_pressures: 'Baja la succión y levanta su presión de descarga.',
    },
  },
  compressor_overload_open: {
    name: 'Compresor detenido por su propio protector',
    explanation:
      'Un interruptor dentro del compresor lo detiene cuando se calienta demasiado o consume demasiada corriente, y se cierra solo cuando se enfría, lo que puede tardar horas. Ese interruptor protege al compresor; qué lo sobrecalienta es otra pregunta.',
    signs: {
      common_open_while_hot:
        'La carcasa está caliente, el común marca abierto a las otras dos, y de marcha a arranque está cerrado.',
      closed_again_when_cool:
        'El común marcaba abierto, y se cerró de nuevo cuando el compresor se enfrió.',
      common_open:
        'El común marca abierto a las otras dos mientras de marcha a arranque está cerrado.',
      stops_by_itself: 'El compresor se detiene por su propio protector.',
      common_closed: 'El común nunca marcó abierto y llega a los dos devanados.',
      run_to_start_open:
        'Marca abierto (OL) de marcha a arranque, lo que el protector no puede hacer.',
      runs,
    },
    notTheCause: 'El protector abierto no es la causa: algo sobrecalienta el compresor.',
  },
} as const satisfies FaultsInSpanish;
