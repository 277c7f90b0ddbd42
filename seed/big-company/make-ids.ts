import type { Random } from './random.ts';

/** Makes one identifier for something that happened at an instant. */
export type MakeId = (at: Date) => string;

/**
 * Identifiers as the program makes them (UUID version 7, RFC 9562), with invented chance instead
 * of real: in the order they are made, as long as the instants are.
 */
export function makeIds(random: Random): MakeId {
  let sequence = 0;
  return (at) => {
    sequence += 1;
    const time = hex(at.getTime(), 12);
    const variant = hex(0x8000 | (random.bits() & 0x3fff), 4);
    const node = hex(random.bits(), 8) + hex(random.bits() & 0xffff, 4);
    return `${time.slice(0, 8)}-${time.slice(8)}-7${hex(sequence & 0xfff, 3)}-${variant}-${node}`;
  };
}

function hex(value: number, digits: number): string {
  return value.toString(16).padStart(digits, '0');
}
