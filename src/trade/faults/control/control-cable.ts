/**
 * Taken off, a sound control cable has no path from wire to wire; below this its wires touch. A
 * contactor coil still connected has some 10 to 20 ohm. Common practice, no source.
 */
export const controlCableOhmsMin = 2;
