import type { FaultsInSpanish } from '../fault-in-spanish.ts';

export const airflowFaults = {
  dirty_filter: {
    name: 'Filtro sucio',
    explanation:
      'Todo el aire de la casa pasa por el filtro. Cuando se llena de suciedad pasa menos aire: los cuartos al final de los ductos se quedan calientes y el serpentín interior se puede congelar. Un filtro nuevo del mismo tamaño es mantenimiento, cada pocos meses, y por sí solo pocas veces devuelve un enfriamiento que se detuvo.',
    signs: {
      seen_dirty: 'El filtro está sucio.',
      takes_too_much:
        'El filtro consume la mitad de la presión que pueden dar casi todos los sopladores.',
      dirty_and_takes_too_much:
        'Se ve sucio el filtro, y la caída de presión en él es demasiado alta.',
      seen_clean: 'El filtro está limpio.',
      takes_little: 'El filtro no quita más presión que uno limpio.',
    },
  },
  dirty_indoor_coil: {
    name: 'Serpentín interior sucio',
    explanation:
      'El serpentín interior le quita el calor al aire que pasa entre sus aletas delgadas de metal. El polvo que pasa el filtro se pega a las aletas húmedas; entonces pasa menos aire, la casa se enfría despacio y el serpentín se puede congelar. La limpieza vuelve a abrir las aletas.',
    signs: {
      seen_dirty: 'La cara del serpentín interior está sucia.',
      takes_too_much: 'Sin hielo, el serpentín interior quita más presión que uno limpio.',
      dirty_and_takes_too_much:
        'Se ve sucia la cara del serpentín interior, y la caída de presión en él es alta.',
      seen_clean: 'La cara del serpentín interior está limpia.',
      takes_little:
        'Con el filtro en orden, el serpentín interior no quita más presión que uno limpio.',
      enough_air: 'Pasa suficiente aire por el serpentín.',
    },
  },
  dirty_blower_wheel: {
    name: 'Turbina del soplador sucia',
    explanation:
      'El soplador mueve el aire de la casa con las aspas curvas de una turbina. El polvo que llena la curva de las aspas hace que no agarren el aire: la turbina gira igual de rápido y mueve mucho menos. Limpiar las aspas devuelve el aire.',
    signs: {
      seen_dirty: 'Las aspas de la turbina del soplador están cubiertas de suciedad.',
      seen_clean: 'Las aspas de la turbina del soplador están limpias.',
      enough_air: 'El soplador mueve suficiente aire.',
    },
  },
  closed_registers: {
    name: 'Rejillas cerradas',
    explanation:
      'Las rejillas dejan entrar el aire frío a los cuartos, y las de retorno lo dejan volver al equipo. Donde varias están cerradas, o tapadas por muebles y tapetes, el equipo trabaja contra puertas cerradas: se mueve menos aire y enfría menos. Cerrar cuartos no ahorra nada; con ellas abiertas el aire vuelve a pasar.',
    signs: {
      seen_closed: 'Hay rejillas o retornos cerrados o tapados.',
      closed_and_pressure_high:
        'Hay rejillas o retornos cerrados, y con filtro, serpentín y ductos en orden el soplador trabaja contra más presión de la que permite su placa.',
      seen_open: 'Las rejillas y los retornos están abiertos y libres.',
    },
  },
  restricted_ducts: {
    name: 'Ductos restringidos o sueltos',
    explanation:
      'Los ductos llevan el aire del equipo a los cuartos y de regreso. Un ducto aplastado, tapado o demasiado chico detiene el aire; uno suelto enfría el ático en lugar de la casa. El equipo mismo puede estar en orden mientras los cuartos siguen calientes.',
    signs: {
      seen: 'Un ducto está aplastado, tapado o suelto.',
      pressure_high:
        'Con filtro y serpentín en orden y las rejillas abiertas, el soplador trabaja contra más presión de la debida.',
      ducts_take_it_all:
        'Con las rejillas abiertas, los ductos solos quitan más presión de la que la placa permite para todo.',
      looked_along: 'No se vio ningún ducto aplastado, tapado o suelto.',
      pressure_in_order: 'El soplador no trabaja contra más presión de la debida.',
    },
  },
  iced_coil: {
    name: 'Hielo en el serpentín interior',
    explanation:
      'Cuando el serpentín interior se enfría más allá del punto de congelación, el agua que saca del aire se vuelve hielo sobre él. El hielo tapa el aire, y la casa deja de enfriarse. Con el enfriamiento apagado y el ventilador encendido se derrite en horas; qué enfrió tanto el serpentín es otra pregunta.',
    signs: {
      seen: 'Había hielo en el serpentín interior o en la línea de succión.',
      never_seen: 'No había hielo en el serpentín interior ni en la línea de succión.',
    },
    notTheCause:
      'El hielo no es la causa: algo enfría demasiado el serpentín, casi siempre muy poco aire o muy poco refrigerante.',
  },
} as const satisfies FaultsInSpanish;
