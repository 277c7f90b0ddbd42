import type { Danger } from '../script.ts';

/**
 * What is read aloud where there is danger, and then nothing else. Gas: a state utility commission's
 * advice. Carbon monoxide: the Consumer Product Safety Commission's. Fire, electrics and a leak that
 * may burn: common practice, no source. Heat: emergency services first, as the National Weather
 * Service asks; the cooling meanwhile from memory of public first aid advice.
 */
export const dangers = {
  gas: {
    callFirst: '911',
    instruction: {
      en: 'Hang up now, and everybody out of the house. Do not switch any light on or off. Do not strike a match. Do not use the phone inside. From a safe distance, call 911 and the gas company. Stay out until they say that it is safe.',
      es: 'Cuelgue ya, y salgan todos de la casa. No prenda ni apague ninguna luz. No encienda nada. No use el teléfono adentro. Desde lejos, llame al 911 y a la compañía de gas. No entren hasta que les digan que es seguro.',
    },
  },
  carbon_monoxide: {
    callFirst: '911',
    instruction: {
      en: 'Everybody out into fresh air now, pets too. Call 911 from outside, and say carbon monoxide. Stay out until the fire department says that it is safe.',
      es: 'Salgan todos al aire libre ya, también las mascotas. Llame al 911 desde afuera y diga monóxido de carbono. No entren hasta que los bomberos digan que es seguro.',
    },
  },
  fire: {
    callFirst: '911',
    instruction: {
      en: 'Everybody out of the house now, and close the doors behind you. Call 911 from outside. Do not go back in for anything.',
      es: 'Salgan todos de la casa ya, y cierren las puertas al salir. Llame al 911 desde afuera. No regresen por nada.',
    },
  },
  breaker_box: {
    callFirst: '911',
    instruction: {
      en: 'Nobody touches the breaker box. Everybody out of the house now, and stay away from it. From outside, call 911 or the power company. Stay out until they say that it is safe.',
      es: 'Nadie toque la caja de interruptores (breakers). Salgan todos de la casa ya, y no se acerquen. Desde afuera, llame al 911 o a la compañía de luz. No entren hasta que les digan que es seguro.',
    },
  },
  electrical: {
    callFirst: '911_if_worse',
    instruction: {
      en: 'Keep everybody away from it, and do not touch it. Only if it is safe, you are dry, and the breaker box is dry and cool: set the thermostat to OFF, and switch the breaker off. It stays off. With smoke or fire, everybody out, and call 911 from outside.',
      es: 'Aléjense todos, y no lo toque. Solo si es seguro, usted está seco, y la caja de interruptores está seca y fría: apague el termostato, y baje el interruptor (breaker). Se queda apagado. Si hay humo o fuego, salgan todos, y llame al 911 desde afuera.',
    },
  },
  water_on_electrics: {
    callFirst: '911_if_worse',
    instruction: {
      en: 'Keep everybody away from the water and from anything electric that is wet. Only if you can reach the breaker box dry, and it is dry itself: switch the breaker off. It stays off. With smoke, sparks or fire, everybody out, and call 911 from outside.',
      es: 'Aléjense todos del agua y de todo lo eléctrico que esté mojado. Solo si llega a la caja de interruptores sin mojarse, y la caja está seca: baje el interruptor (breaker). Se queda apagado. Si hay humo, chispas o fuego, salgan todos, y llame al 911 desde afuera.',
    },
  },
  heat_distress: {
    callFirst: '911',
    instruction: {
      en: 'Call 911 now. Bring the person somewhere cooler, loosen their clothes, and put wet cloths on the skin. Nothing to drink for somebody who is confused or faint. Stay with them until help comes.',
      es: 'Llame al 911 ya. Lleve a la persona a un lugar más fresco, aflójele la ropa, y póngale trapos mojados en la piel. Nada de beber para quien está confundido o desmayado. Quédese con la persona hasta que llegue la ayuda.',
    },
  },
  refrigerant_leak: {
    callFirst: '911_if_worse',
    instruction: {
      en: 'Everybody out now, and stay away from it. Do not switch anything on or off, not the thermostat either. No flames, no smoking. If anyone is dizzy or ill, call 911 from outside.',
      es: 'Salgan todos ya, y no se acerquen. No prenda ni apague nada, tampoco el termostato. Nada de flamas, nada de fumar. Si alguien se marea o se siente mal, llame al 911 desde afuera.',
    },
  },
} as const satisfies Readonly<Record<string, Danger>>;
