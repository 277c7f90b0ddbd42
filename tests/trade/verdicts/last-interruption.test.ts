import { expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { lastInterruption, seenSince } from '../../../src/trade/verdicts/last-interruption.ts';
import { airHandler, outdoorUnit, type Sign, saw, volts } from '../make-evidence.ts';

const clock = (time: string) => `2026-07-14T${time}:00Z`;
const at = (time: string) => ({ takenAt: clock(time) });
const seenAt = (time: string) => ({ at: clock(time) });
const outdoors = (...signs: Sign[]) => admitEvidence(outdoorUnit(signs));
const indoors = (...signs: Sign[]) => admitEvidence(airHandler(signs));
const stands = (time: string) => saw('outdoor_fan_running', 'no', seenAt(time));

test.each<[name: string, sign: Sign]>([
  ['the breaker was tripped', saw('breaker_found_tripped')],
  ['it tripped again', saw('breaker_trips_again')],
  ['the disconnect was off', saw('disconnect_found_open')],
  ['its fuse was open', saw('disconnect_fuse_reads_open')],
  ['the thermostat was set wrong', saw('thermostat_set_wrong')],
  ['its screen was blank', saw('thermostat_screen_blank')],
  ['it did not call', saw('thermostat_calling_cooling', 'no')],
  ['the control fuse was open', saw('control_fuse_reads_open')],
  ['the float was raised', saw('float_switch_raised')],
  ['no line voltage', volts('line_supply', 0.3)],
  ['18 V is no line voltage either', volts('disconnect_line_side', 18)],
  ['no control power', volts('control_supply', 0.1)],
  ['no call at the thermostat', volts('thermostat_cooling_out', 0.1)],
  ['the float switch passes nothing', volts('float_switch_out', 0.2)],
  ['no call outdoors', volts('outdoor_cooling_call', 0.2)],
  ['the high-pressure switch was open', saw('high_pressure_switch_open')],
  ['it held the whole control voltage', volts('high_pressure_switch', 25)],
])('an outdoor unit was without feed or call: %s', (_name, sign) => {
  expect(lastInterruption(outdoors(sign))).toBe(clock('15:00'));
});

test.each<[name: string, sign: Sign]>([
  ['the breaker was not tripped', saw('breaker_found_tripped', 'no')],
  ['line voltage', volts('line_supply', 240)],
  ['a call', volts('outdoor_cooling_call', 25)],
  ['nobody knows whether it was tripped', saw('breaker_found_tripped', 'unknown')],
  ['told on the phone', saw('breaker_found_tripped', 'yes', { source: 'reported' })],
  ['a closed high-pressure switch', volts('high_pressure_switch', 0.1)],
  ['a contactor that does not take its call', saw('contactor_pulled_in', 'no')],
  ['the fan call of the house', volts('board_fan_call', 0.1)],
  ['volts that may be stray', volts('outdoor_cooling_call', 5.02)],
])('no interruption of an outdoor unit: %s', (_name, sign) => {
  expect(lastInterruption(outdoors(sign))).toBeUndefined();
});

test('the indoor fan is interrupted by its own call, not by the one that goes outdoors', () => {
  expect(lastInterruption(indoors(volts('board_fan_call', 0.1)))).toBe(clock('15:00'));
  expect(lastInterruption(indoors(volts('outdoor_cooling_call', 0.1)))).toBeUndefined();
});

test('the last of several interruptions counts, whether seen or measured', () => {
  const facts = outdoors(
    volts('line_supply', 0.2, at('15:20')),
    saw('breaker_found_tripped', 'yes', seenAt('15:00')),
    saw('thermostat_calling_cooling', 'no', seenAt('15:10')),
  );
  expect(lastInterruption(facts)).toBe(clock('15:20'));
  expect(lastInterruption(facts, clock('15:19'))).toBe(clock('15:10'));
  expect(lastInterruption(facts, clock('15:10'))).toBe(clock('15:10'));
  expect(lastInterruption(facts, clock('14:59'))).toBeUndefined();
});

const tripped = (time: string) => saw('breaker_found_tripped', 'yes', seenAt(time));
const fed = (time: string) => volts('outdoor_fan_supply', 240, at(time));

test.each<[name: string, signs: Sign[], state: 'holds' | 'fails' | 'unknown']>([
  ['never looked', [tripped('15:00')], 'unknown'],
  ['nothing was ever interrupted', [stands('15:00')], 'holds'],
  ['seen before the interruption only', [stands('14:59'), tripped('15:00')], 'unknown'],
  ['seen in the same instant', [stands('15:00'), tripped('15:00')], 'holds'],
  ['seen again after it', [stands('14:59'), tripped('15:00'), stands('15:20')], 'holds'],
  [
    'another answer, whenever it was given',
    [tripped('15:00'), saw('outdoor_fan_running', 'yes', seenAt('14:59'))],
    'fails',
  ],
])('what was seen counts since the last interruption: %s', (_name, signs, state) => {
  expect(seenSince(outdoors(...signs), 'outdoor_fan_running', 'no').state).toBe(state);
});

test.each<[name: string, signs: Sign[], state: 'holds' | 'unknown']>([
  ['looked, tripped, fed', [stands('14:59'), tripped('15:00'), fed('15:20')], 'unknown'],
  ['fed, tripped, looked', [fed('14:59'), tripped('15:00'), stands('15:20')], 'unknown'],
  ['tripped, looked, fed', [tripped('15:00'), stands('15:10'), fed('15:20')], 'holds'],
  [
    'looked, fed, switched off after all',
    [stands('15:00'), fed('15:05'), tripped('15:10')],
    'holds',
  ],
  [
    'looked, then tripped as it was fed',
    [stands('15:00'), fed('15:10'), tripped('15:10')],
    'unknown',
  ],
  ['all in one instant', [stands('15:00'), fed('15:00'), tripped('15:00')], 'holds'],
])('beside a reading only what lies between the two spoils the look: %s', (_name, signs, state) => {
  const facts = outdoors(...signs);
  const beside = [{ readingIds: facts.readings.map(({ id }) => id), observationIds: [] }];
  expect(seenSince(facts, 'outdoor_fan_running', 'no', beside).state).toBe(state);
});

test('what was seen is set beside the last time another thing was seen', () => {
  const saidFed = (time: string) => saw('blower_called_and_fed', 'yes', seenAt(time));
  const stood = (time: string) => saw('indoor_fan_running', 'no', seenAt(time));
  const state = (...signs: Sign[]) => {
    const facts = indoors(...signs);
    const ids = facts.observations
      .filter(({ code }) => code === 'blower_called_and_fed')
      .map(({ id }) => id);
    const beside = [{ readingIds: [], observationIds: ids }];
    return seenSince(facts, 'indoor_fan_running', 'no', beside).state;
  };
  expect(state(stood('15:00'), tripped('15:05'), saidFed('15:20'))).toBe('unknown');
  expect(state(stood('15:00'), saidFed('15:03'), tripped('15:05'))).toBe('holds');
  expect(state(saidFed('14:50'), tripped('15:05'), saidFed('15:20'), stood('15:10'))).toBe('holds');
});

test('it says what to look at again, and why', () => {
  const facts = outdoors(stands('14:59'), tripped('15:00'));
  expect(seenSince(facts, 'outdoor_fan_running', 'no')).toMatchObject({
    says: 'Look again: The outdoor fan runs? What was seen is not of the same run: The breaker was found tripped: yes.',
    observationIds: ['o0'],
  });
});
