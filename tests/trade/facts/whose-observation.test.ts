import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import type { Evidence, ObservationCode } from '../../../src/trade/index.ts';
import { outdoorUnit, saw } from '../make-evidence.ts';

const indoors = { id: 'coil-1', kind: 'evaporator_coil', nameplate: {} } as const;

function counts(code: ObservationCode, seenOn: string | undefined, system: Evidence['system']) {
  const evidence = outdoorUnit([saw(code)]);
  const observations = evidence.observations.map(({ equipmentId: _, ...rest }) => ({
    ...rest,
    ...(seenOn !== undefined && { equipmentId: seenOn }),
  }));
  const others = system === undefined ? {} : { system };
  return admitEvidence({ ...evidence, ...others, observations }).observations.length === 1;
}

describe('whose an observation is', () => {
  test.each([
    ['the filter indoors tells of the circuit outdoors', 'filter_dirty', 'coil-1', true],
    ['so does ice', 'ice_on_coil_or_line', 'coil-1', true],
    ['and a search for leaks, wherever it began', 'refrigerant_leak_looked_for', 'coil-1', true],
    ['and the bulb of its valve', 'sensing_bulb_loose', 'coil-1', true],
    ['and what it does to the suction', 'superheat_follows_bulb', 'coil-1', true],
    ['a leak is where it was seen', 'bubbles_at_leak', 'coil-1', false],
    ['a coil is the machine that holds it', 'indoor_coil_dirty', 'coil-1', false],
    ['its own counts', 'bubbles_at_leak', 'unit-1', true],
    ['another system tells nothing', 'filter_dirty', 'coil-9', false],
    ['a filter of nobody knows which machine', 'filter_dirty', undefined, false],
    ['what holds for the house', 'registers_closed', undefined, true],
    ['the thermostat speaks for the machines it calls', 'thermostat_set_wrong', 'coil-1', true],
    ['that of another system in the house tells nothing', 'thermostat_set_wrong', 'coil-9', false],
    [
      'nor does a thermostat of nobody knows which system',
      'thermostat_set_wrong',
      undefined,
      false,
    ],
    ['the fan of another system tells nothing', 'indoor_fan_running', 'coil-9', false],
  ] as const)('%s', (_name, code, seenOn, expected) => {
    expect(counts(code, seenOn, [indoors])).toBe(expected);
  });

  test('without its system a machine knows of no other', () => {
    expect(counts('filter_dirty', 'coil-1', undefined)).toBe(false);
  });
});
