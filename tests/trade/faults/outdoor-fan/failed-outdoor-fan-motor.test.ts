import { describe, expect, test } from 'vitest';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  exclusionsMissing,
  type Verdict,
} from '../../../../src/trade/index.ts';
import {
  amps,
  makeEvidence,
  microfarads,
  ohms,
  outdoorUnit,
  type Sign,
  saw,
  volts,
} from '../../make-evidence.ts';

const stands = saw('outdoor_fan_running', 'no');
const runs = saw('outdoor_fan_running');
const hums = saw('outdoor_fan_hums');
const free = saw('outdoor_fan_turns_freely');
const stiff = saw('outdoor_fan_turns_freely', 'no');
const fed = volts('outdoor_fan_supply', 238);
const sound = microfarads('capacitor_fan', 5);
const weak = microfarads('capacitor_fan', 2.1);
const current = (value: number) => amps('outdoor_fan_lead', value);
const open = saw('outdoor_fan_winding_reads_open');
const unblocked = saw('outdoor_fan_blade_blocked', 'no');
const at = (time: string) => ({ takenAt: `2026-07-14T${time}:00Z` });
const seenAt = (time: string) => ({ at: `2026-07-14T${time}:00Z` });
const winding = ohms('outdoor_fan_winding', 22, at('16:10'));
const openAgain = (time: string) => saw('outdoor_fan_winding_reads_open', 'yes', seenAt(time));
const disagree = 'readings disagree, measure again';
const current190At1532 = amps('outdoor_fan_lead', 1.9, at('15:32'));
const fedAt1532 = volts('outdoor_fan_supply', 241, at('15:32'));

// Plate: 197 to 253 V, fan 1.1 A, 5 uF +/-6 %. A clamp of 2 % + 3 counts reads 1.6 A to 0.062 A.
const rows: [name: string, signs: Sign[], standing: Verdict['standing'], reason: string][] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['its winding, cold, reads open', [open], 'proven', 'proven'],
  [
    'fed, free, a sound capacitor, and it hums',
    [stands, hums, fed, free, sound],
    'proven',
    'proven',
  ],
  ['the same, seen only as a hum', [hums, fed, free, sound], 'proven', 'proven'],
  ['the same, by its current', [stands, current(1.9), fed, free, sound], 'proven', 'proven'],
  [
    'it draws nothing: its overload may be open in the heat',
    [stands, current(0), fed, free, sound],
    'supported',
    'supported',
  ],
  [
    'fed, a sound capacitor, no current taken',
    [stands, fed, free, sound],
    'supported',
    'supported',
  ],
  [
    'its capacitor is weak: that is the cause',
    [stands, hums, fed, free, weak],
    'unproven',
    'looked for, no sign found',
  ],
  ['its capacitor not measured', [stands, hums, fed, free], 'unproven', 'undecided by this method'],
  [
    'no voltage at the motor: look upstream',
    [stands, volts('outdoor_fan_supply', 0.4), free, sound],
    'unproven',
    'looked for, no sign found',
  ],
  [
    '198 V cannot be told from 197 V',
    [stands, hums, volts('outdoor_fan_supply', 198), free, sound],
    'unproven',
    'undecided by this method',
  ],
  [
    'what it draws is what it draws when it runs: it was seen at another moment',
    [stands, current(0.95), fed, free, sound],
    'unproven',
    disagree,
  ],
  [
    '1.08 A cannot be told from the 1.1 A of a running motor',
    [stands, current(1.08), fed, free, sound],
    'supported',
    'supported',
  ],
  [
    'it stood before the breaker was reset, and was measured after',
    [
      saw('outdoor_fan_running', 'no', seenAt('14:59')),
      saw('breaker_found_tripped'),
      fedAt1532,
      current190At1532,
      free,
      sound,
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'it stood uncalled, and was measured once called',
    [
      saw('outdoor_fan_running', 'no', seenAt('14:59')),
      saw('thermostat_calling_cooling', 'no'),
      fedAt1532,
      current190At1532,
      free,
      sound,
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'it was seen to stand again after the breaker was reset',
    [
      saw('breaker_found_tripped'),
      saw('outdoor_fan_running', 'no', seenAt('15:31')),
      fedAt1532,
      current190At1532,
      free,
      sound,
    ],
    'proven',
    'proven',
  ],
  ['its winding reads open and shows ohms once cool', [open, winding], 'unproven', disagree],
  [
    'its winding shows ohms and reads open later',
    [winding, openAgain('16:20')],
    'unproven',
    disagree,
  ],
  [
    'one more look at the winding settles it',
    [winding, openAgain('16:20'), openAgain('16:30')],
    'proven',
    'proven',
  ],
  ['its winding read open, yet it runs', [open, runs], 'unproven', 'leans against'],
  [
    'hot it draws nothing, cold its winding still reads open',
    [stands, current(0), fed, free, sound, openAgain('16:30')],
    'proven',
    'proven',
  ],
  ['it does not turn by hand and nothing blocks it', [stiff, unblocked], 'proven', 'proven'],
  [
    'it did not turn by hand, yet later it runs',
    [stiff, unblocked, saw('outdoor_fan_running', 'yes', seenAt('15:50'))],
    'unproven',
    'signs disagree',
  ],
  ['it does not turn by hand, nobody looked why', [stiff], 'supported', 'supported'],
  [
    'a blocked blade stops a sound motor',
    [stiff, saw('outdoor_fan_blade_blocked')],
    'supported',
    'supported',
  ],
  ['running above its full-load amps', [runs, current(1.6), sound], 'supported', 'supported'],
  ['running within its amps', [runs, current(0.9)], 'contradicted', 'contradicted'],
  ['running, not measured', [runs], 'unproven', 'leans against'],
  ['both motors start by hand', [saw('contactor_by_hand_both_start')], 'unproven', 'leans against'],
  ['it stands, nothing else known', [stands], 'unproven', 'undecided by this method'],
];
test.each(rows)('outdoor fan motor: %s', (_name, signs, standing, reason) => {
  const verdict = weigh(outdoorUnit(signs));
  expect([verdict.standing, verdict.reason]).toEqual([standing, reason]);
});

describe('an ECM hides its windings and may wait for its signal', () => {
  const ecm = { fanMotor: 'ecm', capacitorFanUf: undefined } as const;
  test('fed and standing is a sign, not a proof', () => {
    expect(weigh(outdoorUnit([stands, hums, fed, free], ecm)).standing).toBe('supported');
  });
  test('a meter that reads open at its leads is no proof', () => {
    expect(weigh(outdoorUnit([open], ecm)).standing).toBe('supported');
  });
  test.each(['condensing_unit', 'mini_split'] as const)(
    'nor at the fan of a %s whose plate tells of neither motor nor capacitor',
    (kind) => {
      expect(weigh(makeEvidence(kind, {}, [open, fed, free])).standing).toBe('supported');
    },
  );
  test('a run capacitor on the plate says that the motor is no ECM', () => {
    const evidence = makeEvidence('condensing_unit', { capacitorFanUf: 5 }, [open]);
    expect(weigh(evidence).standing).toBe('proven');
  });
  test('its magnets and its electronics brake a sound fan', () => {
    expect(weigh(outdoorUnit([stiff, unblocked], ecm)).standing).toBe('supported');
  });
});

test('the motor is not sold before voltage, capacitor and blade were looked at', () => {
  const missing = (signs: Sign[]) =>
    exclusionsMissing('failed_outdoor_fan_motor', outdoorUnit(signs)).length;
  expect(missing([])).toBe(3);
  expect(missing([open])).toBe(2);
  expect(missing([fed, free])).toBe(1);
  expect(missing([fed, free, sound])).toBe(0);
});

function weigh(evidence: Evidence): Verdict {
  return evidenceRulesets[currentEvidenceRuleset].weigh('failed_outdoor_fan_motor', evidence);
}
