import type { Machine, Nameplate } from '../evidence.ts';
import type { EquipmentKind } from '../words/equipment-kinds.ts';
import { indoorCoilKinds, outdoorKinds } from '../words/kinds.ts';
import type { Facts } from './admit-evidence.ts';
import { plateOf } from './plate-of.ts';

/**
 * What the plate of the machine that holds the compressor names as its refrigerant. The plate of a
 * coil often lists several it is made for, so that it never stands in.
 */
export function refrigerantOnPlate({ equipment, system }: Facts): Nameplate['refrigerant'] {
  if (isOneOf(outdoorKinds, equipment)) return equipment.nameplate.refrigerant;
  return onlyOne(system.filter((each) => isOneOf(outdoorKinds, each)).map(refrigerantOf));
}

/** The metering device sits at the coil, so that the coil's plate is asked before any other. */
export function meteringDeviceOf(facts: Facts): Nameplate['meteringDevice'] {
  const { equipment, system } = facts;
  const own = equipment.nameplate.meteringDevice;
  if (isOneOf(indoorCoilKinds, equipment) && own !== undefined) return own;
  const atCoils = system.filter((each) => isOneOf(indoorCoilKinds, each)).map(meteringOf);
  const isSilent = atCoils.every((each) => each === undefined);
  return isSilent ? plateOf(facts, 'meteringDevice') : onlyOne(atCoils);
}

function refrigerantOf({ nameplate }: Machine): Nameplate['refrigerant'] {
  return nameplate.refrigerant;
}

function meteringOf({ nameplate }: Machine): Nameplate['meteringDevice'] {
  return nameplate.meteringDevice;
}

/** Where two differ nothing is guessed. */
function onlyOne<Value>(values: readonly (Value | undefined)[]): Value | undefined {
  const named = new Set(values.filter((value) => value !== undefined));
  return named.size === 1 ? [...named][0] : undefined;
}

function isOneOf(kinds: readonly EquipmentKind[], { kind }: Machine): boolean {
  return kinds.includes(kind);
}
