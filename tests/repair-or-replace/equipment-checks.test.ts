import { describe, expect, it } from 'vitest';
import { equipmentChecks, equipmentStatement } from '../../src/repair-or-replace/index.ts';

const r410a = { name: 'Outdoor unit 3 tons', refrigerant: 'R-410A', tons: 3 };
const r454b = { ...r410a, refrigerant: 'R-454B' };

describe('what the owner looks up before new equipment is offered', () => {
  it('names each unit, the days of the rule, the coil, the old charge and local law, all open', () => {
    const checks = equipmentChecks([r410a]);
    expect(checks.map(({ code }) => code)).toEqual([
      'refrigerant',
      'dates',
      'match',
      'recovery',
      'local',
    ]);
    expect(checks.every(({ standing }) => standing === 'to_be_confirmed_by_the_owner')).toBe(true);
    // 40 CFR 84.54 as published in 2023, and the later day of 88 FR 88825 (December 26, 2023).
    expect(checks[1]?.days.map(({ day }) => day)).toEqual(['2025-01-01', '2026-01-01']);
    expect(checks[3]?.source).toContain('40 CFR 82.156');
  });

  it.each([
    ['one that burns', r454b, ['R-454B', 'UL 60335-2-40', 'ASHRAE 15']],
    ['one that is not known', { ...r410a, refrigerant: 'R-290' }, ['R-290', 'UL 60335-2-40']],
  ])('asks for listing and room of %s', (_name, unit, words) => {
    const flammable = equipmentChecks([unit]).find(({ code }) => code === 'flammable');
    for (const word of words) expect(`${flammable?.check} ${flammable?.source}`).toContain(word);
  });

  it('is put into words that name every check, and other words for another unit', () => {
    const statement = equipmentStatement([r454b]);
    for (const { check } of equipmentChecks([r454b])) expect(statement).toContain(check);
    expect(statement).toContain('warming potential 466');
    const others = [r410a, { ...r454b, tons: 4 }, { ...r454b, name: 'Another' }];
    expect(new Set([r454b, ...others].map((unit) => equipmentStatement([unit]))).size).toBe(4);
  });
});
