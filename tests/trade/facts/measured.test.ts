import { describe, expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import { measuredAt } from '../../../src/trade/facts/measured.ts';
import { measuredNear } from '../../../src/trade/facts/measured-near.ts';
import type { PointCode } from '../../../src/trade/index.ts';
import { amps, outdoorUnit, type Sign, saw, volts } from '../make-evidence.ts';

const clock = (time: string) => `2026-07-14T${time}:00Z`;
const at = (time: string) => ({ takenAt: clock(time) });
const facts = (...signs: Sign[]) => admitEvidence(outdoorUnit(signs));

describe('readings of one place that lie apart', () => {
  const both = (point: PointCode, before: number, after: number) => [
    volts(point, before, at('15:00')),
    volts(point, after, at('15:20')),
  ];
  test.each<[name: string, signs: Sign[], kind: 'settled' | 'disagree', value: number]>([
    ['dead at arrival, live after the reset', both('line_supply', 0.2, 241), 'settled', 241],
    ['live, then locked out', both('line_supply', 241, 0.2), 'settled', 0.2],
    ['stray volts, then the line', both('line_supply', 18, 241), 'settled', 241],
    ['no call, then the call', both('outdoor_cooling_call', 0.3, 26), 'settled', 26],
    ['an open pole, then a closed one', both('contactor_pole_1', 240, 0.05), 'settled', 0.05],
    ['two live ones', both('line_supply', 215, 241), 'disagree', 0],
    ['one leg, then both', both('line_supply', 120, 241), 'disagree', 0],
    ['more than strays, then the line', both('line_supply', 25, 241), 'disagree', 0],
    ['just what strays, then the line', both('line_supply', 19, 241), 'settled', 241],
    ['a sag is no switch', both('transformer_secondary', 18.4, 25), 'disagree', 0],
    ['two drops over a closed pole', both('contactor_pole_1', 4, 0.05), 'disagree', 0],
    [
      'no current, then very much',
      [amps('compressor_common', 0, at('15:00')), amps('compressor_common', 90, at('15:20'))],
      'disagree',
      0,
    ],
    [
      'no current, then some: a meter may have been on the wrong wire',
      [amps('compressor_common', 0, at('15:00')), amps('compressor_common', 14, at('15:20'))],
      'disagree',
      0,
    ],
  ])('%s', (_name, signs, kind, value) => {
    const [first] = signs;
    if (first === undefined || !('reading' in first)) throw new Error('no reading');
    const { point, quantity } = first.reading;
    const settled = measuredAt(facts(...signs), point, quantity);
    expect(settled.kind).toBe(kind);
    if (settled.kind === 'settled') expect(settled.measured.value).toBe(value);
  });

  test('what was otherwise before is named as a doubt', () => {
    expect(
      measuredAt(facts(...both('line_supply', 0.2, 241)), 'line_supply', 'voltage'),
    ).toMatchObject({ doubts: ['Earlier it was otherwise: 0.200 V measured by multimeter.'] });
  });
});

describe('what was measured in the minutes of a look', () => {
  const look = saw('outdoor_fan_running', 'no', { at: clock('15:00') });
  const line = (value: number, time: string) => volts('line_supply', value, at(time));
  test.each<[name: string, signs: Sign[], value: number | 'unusable' | 'none']>([
    ['nothing', [], 'none'],
    ['in the same minute', [line(241, '15:00')], 241],
    ['a quarter of an hour before', [line(241, '14:45')], 241],
    ['later than that', [line(241, '15:16')], 'unusable'],
    ['dead then, live later', [line(0.2, '15:02'), line(241, '15:08')], 0.2],
    ['dead before, live then', [line(0.2, '14:50'), line(241, '15:02')], 241],
  ])('%s', (_name, signs, value) => {
    const known = facts(look, ...signs);
    const near = measuredNear(known, 'line_supply', 'voltage', {
      readingIds: [],
      observationIds: ['o0'],
    });
    expect(near.kind === 'settled' ? near.measured.value : near.kind).toBe(value);
  });
});
