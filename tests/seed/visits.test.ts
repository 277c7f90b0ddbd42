import { describe, expect, it } from 'vitest';
import { fixedChecklist } from '../../seed/visits/fixed-checklist.ts';
import { laterVisits } from '../../seed/visits/later-visits.ts';
import * as systems from '../../seed/visits/systems.ts';
import { truths } from '../../seed/visits/truths.ts';
import type { VisitSheet } from '../../seed/visits/visit-sheet.ts';
import { visits } from '../../seed/visits/visits.ts';
import { machineSchema } from '../../src/trade/evidence.ts';
import {
  checkNameplate,
  checkReading,
  type EquipmentKind,
  methodCodeSchema,
  observationCodeSchema,
  observationWords,
  type PointCode,
  pointCodeSchema,
  pointWords,
  quantitySchema,
  unitOfQuantity,
} from '../../src/trade/index.ts';
import { checkCodeSchema, checkWords } from '../../src/trade/words/checks.ts';

type Side = 'indoor' | 'outdoor';
const sidesOf: Record<EquipmentKind, readonly Side[]> = {
  condensing_unit: ['outdoor'],
  heat_pump: ['outdoor'],
  air_handler: ['indoor'],
  evaporator_coil: ['indoor'],
  furnace: ['indoor'],
  package_unit: ['indoor', 'outdoor'],
  mini_split: ['indoor', 'outdoor'],
  thermostat: ['indoor'],
};

const sheets: { name: string; sheet: VisitSheet }[] = [
  ...visits,
  ...laterVisits,
  ...Object.entries(systems).map(([name, sheet]) => ({ name: `healthy ${name}`, sheet })),
];

describe('The invented visits', () => {
  it('are forty, each with its own name', () => {
    expect(visits).toHaveLength(40);
    expect(new Set(visits.map((visit) => visit.name)).size).toBe(40);
  });

  it('spread over at least thirty truths of the list, and three have none of them', () => {
    const found = visits.map((visit) => visit.truth);
    const known = new Set<string>([...truths, 'something_else']);
    expect(found.filter((truth) => !known.has(truth))).toEqual([]);
    expect(new Set(found.filter((truth) => truth !== 'something_else')).size).toBeGreaterThan(29);
    expect(found.filter((truth) => truth === 'something_else')).toHaveLength(3);
  });

  it('are mostly calls without any cooling, and many of them mislead', () => {
    expect(visits.filter((visit) => visit.call === 'no_cooling').length).toBeGreaterThan(25);
    expect(visits.filter((visit) => visit.twist === 'misleading').length).toBeGreaterThan(11);
    expect(visits.filter((visit) => visit.twist === 'two_weak')).toHaveLength(3);
    const atLimit = visits.filter((visit) => visit.twist === 'at_limit');
    expect(atLimit).toHaveLength(4);
  });

  it('are provable except at a limit and where the list has no truth for them', () => {
    const open = visits.filter(
      ({ twist, truth }) => twist === 'at_limit' || truth === 'something_else',
    );
    expect(visits.filter((visit) => !visit.provable)).toEqual(open);
  });

  it('place the truth on a machine of their system', () => {
    const elsewhere = visits.filter(
      ({ onMachine, sheet }) => !sheet.machines.some(({ machine }) => machine.id === onMachine),
    );
    expect(elsewhere.map((visit) => visit.name)).toEqual([]);
  });
});

describe('The later visits', () => {
  it('are twenty, each with a name that none of the forty has', () => {
    expect(laterVisits).toHaveLength(20);
    expect(new Set([...visits, ...laterVisits].map((visit) => visit.name)).size).toBe(60);
  });

  it('are twenty truths, most of them behind none of the forty, and one outside the list', () => {
    const found = laterVisits.map((visit) => visit.truth);
    const known = new Set<string>([...truths, 'something_else']);
    expect(found.filter((truth) => !known.has(truth))).toEqual([]);
    expect(new Set(found).size).toBe(20);
    expect(found.filter((truth) => truth === 'something_else')).toHaveLength(1);
    const ofForty = new Set<string>(visits.map((visit) => visit.truth));
    expect(found.filter((truth) => !ofForty.has(truth)).length).toBeGreaterThan(12);
  });

  it('stand on each of the six healthy systems', () => {
    const plates = new Set(laterVisits.map(({ sheet }) => platesOf(sheet)));
    expect(plates).toEqual(new Set(Object.values(systems).map(platesOf)));
  });

  it('are provable except a failed switch and where the list has no truth for them', () => {
    const open = laterVisits.filter(
      ({ truth }) => truth === 'failed_float_switch' || truth === 'something_else',
    );
    expect(laterVisits.filter((visit) => !visit.provable)).toEqual(open);
  });

  it('place the truth on a machine of their system', () => {
    const elsewhere = laterVisits.filter(
      ({ onMachine, sheet }) => !sheet.machines.some(({ machine }) => machine.id === onMachine),
    );
    expect(elsewhere.map((visit) => visit.name)).toEqual([]);
  });
});

describe.each(sheets)('The sheet of $name', ({ sheet }) => {
  it('has machines whose plates can be', () => {
    for (const { machine } of sheet.machines) {
      expect(machineSchema.parse(machine)).toEqual(machine);
      expect(checkNameplate(machine.nameplate)).toEqual([]);
    }
  });

  it('has only readings that can be, on a side of the machine that has their point', () => {
    const wrong = sheet.machines.flatMap(({ machine, readings }) =>
      Object.entries(readings).filter(([key, { value, method }]) => {
        const { point, quantity } = readingOf(key);
        const unit = unitOfQuantity[quantity];
        methodCodeSchema.parse(method);
        const refusal = checkReading({ point, quantity, value, unit, method });
        return refusal !== undefined || !fits(pointWords[point].on, machine.kind);
      }),
    );
    expect(wrong).toEqual([]);
  });

  it('has only observations that its machines or the house can show', () => {
    const onMachines = sheet.machines.flatMap(({ machine, observations }) =>
      codesOf(observations).filter((code) => {
        const { about, on } = observationWords[code];
        return about === 'house' || !fits(on, machine.kind);
      }),
    );
    const ofHouse = codesOf(sheet.house).filter(
      (code) => observationWords[code].about === 'machine',
    );
    expect([...onMachines, ...ofHouse]).toEqual([]);
  });
});

describe.each(sheets)('The physics of $name', ({ sheet }) => {
  it('leave out what only a closed contactor or moving air can show', () => {
    const open = sheet.machines.filter(
      ({ observations }) => observations.contactor_pulled_in === 'no',
    );
    const running = open.flatMap(({ readings }) =>
      Object.keys(readings).filter((key) => runningOnly.includes(key)),
    );
    expect(running).toEqual([]);
    const airStands = sheet.house.indoor_fan_running === 'no';
    const moving = sheet.machines.flatMap(({ readings }) =>
      Object.keys(readings).filter((key) => key.endsWith('.static_pressure')),
    );
    expect(airStands ? moving : []).toEqual([]);
  });

  it('agree on a capacitor under load and with its leads off, C = I / (2 * pi * 60 Hz * V)', () => {
    for (const { readings } of sheet.machines) {
      const amps = readings['capacitor_herm.current']?.value;
      const volts = readings['capacitor_herm.voltage']?.value;
      const leadsOff = readings['capacitor_herm.capacitance']?.value;
      if (amps === undefined || volts === undefined || leadsOff === undefined) continue;
      const underLoadUf = (amps * 1e6) / (2 * Math.PI * 60 * volts);
      expect(Math.abs(underLoadUf / leadsOff - 1)).toBeLessThan(0.02);
    }
  });

  it('add up run and start winding of a single-phase compressor', () => {
    for (const { machine, readings } of sheet.machines) {
      const run = readings['compressor_c_to_r.resistance']?.value;
      const start = readings['compressor_c_to_s.resistance']?.value;
      const both = readings['compressor_r_to_s.resistance']?.value;
      if (machine.nameplate.compressorMotor === 'inverter') continue;
      if (run === undefined || start === undefined || both === undefined) continue;
      expect(Math.abs(run + start - both)).toBeLessThan(0.15);
    }
  });
});

describe('The checks of the trade', () => {
  it('each show something on at least one visit', () => {
    const shown = new Set<string>(
      visits.flatMap(({ sheet }) => [
        ...Object.keys(sheet.house),
        ...sheet.machines.flatMap(({ observations, readings }) => [
          ...Object.keys(observations),
          ...Object.keys(readings),
        ]),
      ]),
    );
    const silent = checkCodeSchema.options.filter((code) => {
      const { observations, readings } = checkWords[code];
      return ![...observations, ...readings].some((word) => shown.has(word));
    });
    expect(silent).toEqual([]);
  });

  it('each stand once in the fixed checklist', () => {
    expect([...fixedChecklist].sort()).toEqual([...checkCodeSchema.options].sort());
  });
});

const runningOnly = [
  'contactor_pole_1.voltage',
  'contactor_pole_2.voltage',
  'compressor_common.current',
  'capacitor_herm.current',
  'capacitor_herm.voltage',
  'outdoor_fan_lead.current',
];

function readingOf(key: string) {
  const [point, quantity] = key.split('.');
  const known: PointCode = pointCodeSchema.parse(point);
  return { point: known, quantity: quantitySchema.parse(quantity) };
}

/** Its machines with their plates: what tells one healthy system from another. */
function platesOf({ machines }: VisitSheet): string {
  return JSON.stringify(machines.map(({ machine }) => machine));
}

function codesOf(observations: object) {
  return Object.keys(observations).map((code) => observationCodeSchema.parse(code));
}

function fits(on: Side | 'any', kind: EquipmentKind): boolean {
  return on === 'any' || sidesOf[kind].includes(on);
}
