import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { type Provided, weighLimit } from '../../../src/trade/verdicts/weigh-limit.ts';
import { weighObservation } from '../../../src/trade/verdicts/weigh-observation.ts';
import { weighReadsOpen } from '../../../src/trade/verdicts/weigh-reads-open.ts';
import { weigh } from '../../../src/trade/weigh.ts';
import { ohms, outdoorUnit, type Sign, saw } from '../make-evidence.ts';

/*
 * A verdict keeps everything it rests on, and names every doubt. PRODUCT.md, "Readings, verdicts,
 * findings".
 */

const clock = (time: string) => `2026-07-14T${time}:00Z`;
const facts = (...signs: Sign[]) => admitEvidence(outdoorUnit(signs));

describe('a look that is weighed', () => {
  const weighed = (...signs: Sign[]) =>
    weighObservation(facts(...signs), {
      ...{
        id: 'pitted',
        direction: 'for',
        weight: 'indicative',
        code: 'contactor_contacts_pitted',
      },
    }).criterion;
  const pitted = (answer: 'yes' | 'no' | 'unknown', time: string) =>
    saw('contactor_contacts_pitted', answer, { at: clock(time) });

  test.each<[string, Sign[], string, string[]]>([
    ['rests on it', [pitted('yes', '15:00')], 'met', ['o0']],
    [
      'rests on all that say so',
      [pitted('yes', '15:00'), pitted('yes', '15:10')],
      'met',
      ['o0', 'o1'],
    ],
    [
      'rests on the latest answer',
      [pitted('yes', '15:00'), pitted('no', '15:10')],
      'not_met',
      ['o1'],
    ],
    ['rests on nothing without one', [], 'not_recorded', []],
    ['rests on nothing where it could not tell', [pitted('unknown', '15:00')], 'not_recorded', []],
  ])('%s', (_, signs, outcome, observationIds) => {
    expect(weighed(...signs)).toMatchObject({ outcome, observationIds, readingIds: [] });
  });
});

describe('a coil that reads OL and has ohms', () => {
  const open = (time: string) => saw('contactor_coil_reads_open', 'yes', { at: clock(time) });
  const measured = ohms('contactor_coil', 12, { takenAt: clock('15:10') });
  const other = saw('contactor_contacts_pitted', 'yes', { at: clock('15:30') });

  test.each<[string, Sign[], string, string[]]>([
    ['is undecided, and rests on both', [open('15:00'), measured], 'undecided', ['r1']],
    ['is so after it read OL once more', [measured, open('15:20')], 'undecided', ['r0']],
    ['is open where it read OL twice since', [measured, open('15:20'), open('15:25')], 'met', []],
    [
      'is not where something else was seen since',
      [measured, open('15:20'), other],
      'undecided',
      ['r0'],
    ],
    ['is open where nobody measured it', [open('15:00')], 'met', []],
  ])('%s', (_, signs, outcome, readingIds) => {
    const { criterion } = weighReadsOpen(facts(...signs), {
      ...{ id: 'open', direction: 'for', weight: 'decisive' },
      ...{ code: 'contactor_coil_reads_open', point: 'contactor_coil' },
    });
    expect(criterion).toMatchObject({ outcome, readingIds });
  });
});

describe('a figure beside its limit of 40 uF, good to 1 uF', () => {
  const head = {
    id: 'low',
    direction: 'for',
    weight: 'decisive',
    statement: 'It is low.',
  } as const;

  test.each([
    [38.9, 'met', /; the limit is 40.*\.$/],
    [39.1, 'undecided', /, which leaves it undecided\.$/],
    [40.9, 'undecided', /, which leaves it undecided\.$/],
    [41.1, 'not_met', /; the limit is 40.*\.$/],
  ])('%d uF is %s', (value, outcome, detail) => {
    const measured = { value, uncertainty: 1, unit: 'uF', how: 'by hand', readingIds: [] } as const;
    const { criterion } = weighLimit(
      head,
      { kind: 'settled', measured, doubts: [] },
      { label: 'Run capacitor, compressor section', metWhen: 'below', limit: 40 },
    );
    expect(criterion.outcome).toBe(outcome);
    expect(criterion.detail).toMatch(detail);
    expect(criterion.detail.includes('undecided')).toBe(outcome === 'undecided');
  });
});

test('a figure rests on what has to be so before it says anything, and on nothing else', () => {
  const measured = {
    value: 38,
    uncertainty: 1,
    unit: 'uF',
    how: 'by hand',
    readingIds: ['r0'],
  } as const;
  const rule = { label: 'Run capacitor, compressor section', metWhen: 'below', limit: 40 } as const;
  const restsOn = (provided: readonly Provided[]) => {
    const { criterion } = weighLimit(
      { id: 'low', direction: 'for', weight: 'decisive', statement: 'It is low.' },
      { kind: 'settled', measured, doubts: [] },
      { ...rule, provided },
    );
    return [criterion.readingIds, criterion.observationIds];
  };
  const always = { holds: true, otherwise: 'say so' };
  expect(restsOn([always])).toEqual([['r0'], []]);
  expect(
    restsOn([
      { ...always, observationIds: ['o1'] },
      { ...always, readingIds: ['r2'] },
    ]),
  ).toEqual([['r0', 'r2'], ['o1']]);
});

describe('what speaks against a fault is a doubt of one that is proven', () => {
  const open = saw('compressor_to_ground_reads_open', 'yes', { at: clock('15:00') });
  const twice = (value: number) =>
    ['15:20', '15:25'].map((time) => ohms('compressor_to_ground', value, { takenAt: clock(time) }));
  const against = 'Every compressor terminal reads open (OL) to ground.';

  test.each<[string, Sign[], string, string[]]>([
    ['and is named', [open, ...twice(50_000)], 'proven', [against]],
    ['and of no other', [open, ...twice(500_000)], 'unproven', []],
    ['where there is any', twice(50_000), 'proven', []],
  ])('%s', (_, signs, standing, doubts) => {
    expect(weigh('compressor_grounded', facts(...signs))).toMatchObject({ standing, doubts });
  });
});
