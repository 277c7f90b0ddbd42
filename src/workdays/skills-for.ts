import type { Skill } from '../technicians/index.ts';
import type { EquipmentKind, Nameplate } from '../trade/index.ts';

/** A machine as far as it tells who can work on it. */
export interface SkilledMachine {
  readonly kind: EquipmentKind;
  readonly nameplate: Nameplate;
}

/** What a call is about, as far as it decides on skills. */
export type CallAbout = 'cooling' | 'heating' | 'everything';

const heatingSymptoms = ['no_heating', 'weak_heating'];
const coolingSymptoms = ['no_cooling', 'weak_cooling', 'ice'];

/** Maintenance looks at everything, and so does who was told of neither heat nor cold. */
export function callAbout(kind: string, symptoms: readonly string[]): CallAbout {
  if (kind === 'maintenance') return 'everything';
  const isHeating = symptoms.some((each) => heatingSymptoms.includes(each));
  const isCooling = symptoms.some((each) => coolingSymptoms.includes(each));
  if (isHeating === isCooling) return 'everything';
  return isHeating ? 'heating' : 'cooling';
}

/** The skills that these machines take for such a call, in the order of the alphabet. */
export function skillsFor(machines: readonly SkilledMachine[], about: CallAbout): Skill[] {
  const skills = machines.flatMap((machine) => [
    ...(about === 'heating' ? [] : toCool(machine)),
    ...(about === 'cooling' ? [] : toHeat(machine)),
  ]);
  return [...new Set(skills)].sort();
}

function toCool({ kind }: SkilledMachine): Skill[] {
  switch (kind) {
    case 'condensing_unit':
    case 'package_unit':
      return ['cooling'];
    case 'heat_pump':
      return ['heat_pump'];
    case 'mini_split':
      return ['ductless'];
    case 'air_handler':
    case 'evaporator_coil':
    case 'furnace':
    case 'thermostat':
      return [];
  }
}

function toHeat({ kind, nameplate }: SkilledMachine): Skill[] {
  switch (kind) {
    case 'furnace':
      // A plate in kilowatts alone is that of an electric one; all others burn gas here.
      return isElectric(nameplate) ? ['electric_heat'] : ['gas_heat'];
    case 'package_unit':
      if (nameplate.heatInputBtuh !== undefined) return ['gas_heat'];
      return isElectric(nameplate) ? ['electric_heat'] : [];
    case 'air_handler':
      return isElectric(nameplate) ? ['electric_heat'] : [];
    case 'heat_pump':
      return ['heat_pump'];
    case 'mini_split':
      return ['ductless'];
    case 'condensing_unit':
    case 'evaporator_coil':
    case 'thermostat':
      return [];
  }
}

function isElectric({ heatKw, heatInputBtuh }: Nameplate): boolean {
  return heatKw !== undefined && heatInputBtuh === undefined;
}
