import { knownRefrigerant, refrigerants } from '../trade/index.ts';
import { warmingPotentialText } from './warming-potential.ts';

/** A new outdoor unit as the owner's book lists it. */
export interface NewUnit {
  name: string;
  refrigerant: string;
  tons: number;
}

/** One thing to look up before new equipment is offered. Nothing of it is confirmed by being here. */
export interface EquipmentCheck {
  code: 'refrigerant' | 'dates' | 'match' | 'flammable' | 'recovery' | 'local';
  check: string;
  /** What we know of the days in the rule, for whoever looks it up. */
  days: readonly { day: string; meaning: string }[];
  source: string;
  standing: 'to_be_confirmed_by_the_owner';
}

/**
 * What the owner looks up before this new equipment is offered. Rules on refrigerants change, so
 * dates and figures stand here to be confirmed, not to be relied on.
 */
export function equipmentChecks(units: readonly NewUnit[]): EquipmentCheck[] {
  const mayBurn = units.filter(({ refrigerant }) => isFlammableOrUnknown(refrigerant));
  return [
    ...units.map((unit) => toConfirm('refrigerant', refrigerantText(unit), ratingSource)),
    {
      ...toConfirm(
        'dates',
        'It may still be installed here today: what a complete new system may hold, what may replace an outdoor unit alone, and when the unit was made or imported.',
        '40 CFR 84.54; 88 FR 88825 of December 26, 2023; the rule has been under reconsideration since',
      ),
      days: transitionDays,
    },
    toConfirm(
      'match',
      'Its maker lists it with the indoor coil and the lines that stay.',
      'the maker’s instructions',
    ),
    ...(mayBurn.length === 0 ? [] : [toConfirm('flammable', flammableText(mayBurn), a2lSource)]),
    toConfirm(
      'recovery',
      'The old charge is recovered by a certified technician before the circuit is opened, and the old unit’s disposal is put on record.',
      '40 CFR 82.156 and 82.161',
    ),
    toConfirm('local', 'Permit and local code are met.', 'local law'),
  ];
}

/** The words the owner puts a name to. Another refrigerant or size makes other words. */
export function equipmentStatement(units: readonly NewUnit[]): string {
  const checks = equipmentChecks(units).map(({ check }, at) => `${at + 1}. ${check}`);
  return [
    'For this revision I have looked up the refrigerant rules in force and confirm:',
    ...checks,
  ].join('\n');
}

const transitionDays = [
  {
    day: '2025-01-01',
    meaning:
      'From here on no product for homes and light commerce is made or imported with a refrigerant of a warming potential of 700 or more.',
  },
  {
    day: '2026-01-01',
    meaning:
      'Until the day before, a new system could be installed with it from parts made or imported before 2025.',
  },
] as const;

const ratingSource = 'the nameplate; warming potential from memory of IPCC AR4';
const a2lSource = 'UL 60335-2-40, ASHRAE 15 and the maker’s instructions';

function refrigerantText({ name, refrigerant, tons }: NewUnit): string {
  const code = knownRefrigerant(refrigerant);
  const rating =
    code === undefined
      ? 'its warming potential is not known here'
      : `warming potential ${warmingPotentialText[code]}, limit for new equipment below 700`;
  return `${name}, ${tons} tons, holds ${refrigerant}: ${rating}.`;
}

function flammableText(units: readonly NewUnit[]): string {
  const names = [...new Set(units.map(({ refrigerant }) => refrigerant))].join(' and ');
  return `${names} can burn or is not known here: listing, smallest room, leak detection and lines are as its maker asks.`;
}

function isFlammableOrUnknown(refrigerant: string): boolean {
  const code = knownRefrigerant(refrigerant);
  return code === undefined || refrigerants[code].safetyGroup === 'A2L';
}

function toConfirm(code: EquipmentCheck['code'], check: string, source: string): EquipmentCheck {
  return { code, check, days: [], source, standing: 'to_be_confirmed_by_the_owner' };
}
