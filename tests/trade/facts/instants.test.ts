import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { refrigerantOnPlate } from '../../../src/trade/facts/circuit-plate.ts';
import { compressorToGround } from '../../../src/trade/facts/compressor-to-ground.ts';
import { highPressureSwitchPasses } from '../../../src/trade/facts/high-pressure-switch.ts';
import { latestInstant } from '../../../src/trade/facts/measured-near.ts';
import { observed } from '../../../src/trade/facts/observed.ts';
import { pressureLifts } from '../../../src/trade/facts/pressure-lifts.ts';
import type { Evidence } from '../../../src/trade/index.ts';
import {
  airHandler,
  ohms,
  outdoorUnit,
  psig,
  type Sign,
  saw,
  volts,
  withPhoto,
} from '../make-evidence.ts';

/*
 * What is on record says something of its own minutes only. PRODUCT.md, "Readings, verdicts,
 * findings".
 */

const clock = (time: string) => `2026-07-14T${time}:00Z`;
const at = (time: string) => ({ takenAt: clock(time) });
const seenAt = (time: string) => ({ at: clock(time) });
const facts = (...signs: Sign[]) => admitEvidence(outdoorUnit(signs));

describe('the latest of several instants', () => {
  const of = (...signs: Sign[]) =>
    latestInstant(facts(...signs), { readingIds: ['r0', 'r1'], observationIds: ['o0', 'o1'] });

  test.each<[string, Sign[], string | undefined]>([
    [
      'is that of a reading after a look',
      [volts('line_supply', 240, at('15:20')), saw('compressor_running', 'yes', seenAt('15:00'))],
      clock('15:20'),
    ],
    [
      'is that of a look after a reading',
      [volts('line_supply', 240, at('15:00')), saw('compressor_running', 'yes', seenAt('15:20'))],
      clock('15:20'),
    ],
    ['is not there where nothing is on record', [], undefined],
  ])('%s', (_, signs, expected) => {
    expect(of(...signs)).toBe(expected);
  });
});

test('a head pressure stands above the suction from when both had been read', () => {
  const lift = (head: string, suction: string) =>
    pressureLifts(
      facts(psig('liquid_port', 365, at(head)), psig('suction_port', 130, at(suction))),
    ).map(({ atMs, measured: { value } }) => [atMs, value]);
  const both = [[Date.parse(clock('15:10')), 235]];
  expect(lift('15:00', '15:10')).toEqual(both);
  expect(lift('15:10', '15:00')).toEqual(both);
  expect(lift('15:00', '15:16')).toEqual([]);
});

describe('a compressor low to ground that read OL', () => {
  const low = (time: string) => ohms('compressor_to_ground', 50_000, at(time));
  const open = saw('compressor_to_ground_reads_open', 'yes', seenAt('15:10'));

  test.each<[string, Sign[], string]>([
    ['before a low figure', [open, low('15:20')], 'disagree'],
    ['before two of them', [open, low('15:20'), low('15:25')], 'settled'],
    ['in the minute of one of two', [open, low('15:10'), low('15:25')], 'disagree'],
    ['after two of them', [low('15:00'), low('15:05'), open], 'disagree'],
    ['never', [low('15:00')], 'settled'],
    ['before a good figure', [open, ohms('compressor_to_ground', 5e6, at('15:20'))], 'settled'],
  ])('%s', (_, signs, kind) => {
    expect(compressorToGround(facts(...signs)).kind).toBe(kind);
  });
});

// Dead below 5 V, fed from 20 V: common practice, no source.
test.each([
  ['all of the control voltage', 26, 26, 'no'],
  ['none while a call stands', 0.1, 26, 'yes'],
  ['none without a call', 0.1, 0.1, undefined],
  ['some of it, which tells nothing', 12, 26, undefined],
])('a high-pressure switch with %s across it', (_, across, call, expected) => {
  const of = facts(volts('high_pressure_switch', across), volts('outdoor_cooling_call', call));
  expect(highPressureSwitchPasses(of)).toBe(expected);
});

describe('the latest look counts', () => {
  const look = (answer: 'yes' | 'no' | 'unknown', time: string, more = {}) =>
    saw('compressor_running', answer, { ...seenAt(time), ...more });

  test.each<[string, Sign[], ReturnType<typeof observed>]>([
    ['never', [], undefined],
    [
      'with every look that says the same, and its photo',
      [look('yes', '15:00', withPhoto), look('yes', '15:10')],
      { answer: 'yes', ids: ['o0', 'o1'], hasPhoto: true, changed: false },
    ],
    [
      'over what was seen before, without its photo',
      [look('yes', '15:00', withPhoto), look('no', '15:10')],
      { answer: 'no', ids: ['o1'], hasPhoto: false, changed: true },
    ],
    [
      'but for one that could not tell, which is no evidence',
      [look('yes', '15:00'), look('unknown', '15:10')],
      { answer: 'yes', ids: ['o0'], hasPhoto: false, changed: false },
    ],
  ])('%s', (_, signs, expected) => {
    expect(observed(facts(...signs), 'compressor_running')).toEqual(expected);
  });
});

test('what a look could not tell is no evidence, and need not be asked again at once', () => {
  const { observations, unknown } = facts(
    saw('compressor_running', 'unknown'),
    saw('outdoor_fan_running', 'no'),
  );
  expect([...unknown]).toEqual(['compressor_running']);
  expect(observations.map(({ code }) => code)).toEqual(['outdoor_fan_running']);
});

test('the plate of a coil, which lists what it is made for, never names the refrigerant', () => {
  type Machine = Evidence['equipment'];
  const coil: Machine = {
    id: 'coil-1',
    kind: 'evaporator_coil',
    nameplate: { refrigerant: 'R-22' },
  };
  const outdoors: Machine = {
    id: 'unit-2',
    kind: 'condensing_unit',
    nameplate: { refrigerant: 'R-410A' },
  };
  const of = (...system: Machine[]) =>
    refrigerantOnPlate(admitEvidence({ ...airHandler([]), system }));
  expect(of(outdoors, coil)).toBe('R-410A');
  expect(of(coil)).toBeUndefined();
});
