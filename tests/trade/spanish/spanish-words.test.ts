import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it, test } from 'vitest';
import { z } from 'zod';
import { describeFaults } from '../../../src/evidence/describe-faults.ts';
import {
  evidenceRulesets,
  evidenceSchema,
  faultCatalog,
  faultCodeSchema,
} from '../../../src/trade/index.ts';
import { equipmentKindsInSpanish } from '../../../src/trade/spanish/equipment-kinds.ts';
import { faultsInSpanish } from '../../../src/trade/spanish/faults.ts';
import { labelInSpanish } from '../../../src/trade/spanish/label-in-spanish.ts';
import { lookedAtInSpanish } from '../../../src/trade/spanish/looked-at-in-spanish.ts';
import { measuredLabelsInSpanish } from '../../../src/trade/spanish/measured-labels.ts';
import { observationsInSpanish } from '../../../src/trade/spanish/observations.ts';
import { partCategoriesInSpanish } from '../../../src/trade/spanish/part-categories.ts';
import { pointsInSpanish } from '../../../src/trade/spanish/points.ts';
import { quantitiesInSpanish } from '../../../src/trade/spanish/quantities.ts';
import { readingInSpanish } from '../../../src/trade/spanish/reading-in-spanish.ts';
import { signInSpanish } from '../../../src/trade/spanish/sign-in-spanish.ts';
import { tasksInSpanish } from '../../../src/trade/spanish/tasks.ts';
import { englishWordsIn } from './english-words.ts';

const texts = [
  ...[equipmentKindsInSpanish, measuredLabelsInSpanish, observationsInSpanish],
  ...[pointsInSpanish, quantitiesInSpanish, tasksInSpanish, partCategoriesInSpanish],
  ...Object.values(faultsInSpanish).map(({ signs, signsAsSaid, ...words }) => ({
    ...words,
    ...signs,
    ...signsAsSaid,
  })),
].flatMap((table) => Object.entries<string>(table));

const corpus = new URL('../golden/evidence-1/', import.meta.url);

/** Every sentence that a rule says in some golden case. */
const saidInGoldenCases = readdirSync(corpus).flatMap((name) => {
  const { faultCode, evidence } = z
    .object({ faultCode: faultCodeSchema, evidence: evidenceSchema })
    .parse(JSON.parse(readFileSync(new URL(name, corpus), 'utf8')));
  const { criteria } = evidenceRulesets['evidence-1'].weigh(faultCode, evidence);
  return criteria.map(({ id, direction, statement }) => ({ faultCode, id, direction, statement }));
});

const CHARGE_READINGS = [
  [/superheat/i, /sobrecalentamiento/i],
  [/subcooling/i, /subenfriamiento/i],
] as const;

test('every Spanish text says something, and no word of it is English', () => {
  expect(texts.length).toBeGreaterThan(600);
  const wrong = texts.filter(
    ([, text]) => text.trim() === '' || text !== text.trim() || englishWordsIn(text).length > 0,
  );
  expect(wrong).toEqual([]);
});

test('a share is written as it is in the prices: 10%', () => {
  expect(texts.filter(([, text]) => /\d%/.test(text))).not.toEqual([]);
  expect(texts.filter(([, text]) => /\d\s%/.test(text))).toEqual([]);
});

test('an English text would be caught', () => {
  const english = faultCatalog.flatMap(({ explanation }) => explanation);
  expect(english.filter((text) => englishWordsIn(text).length === 0)).toEqual([]);
});

describe.each(describeFaults())('$code', ({ code, role, criteria, exclusions }) => {
  const spanish = faultsInSpanish[code];

  it('has each of its signs in Spanish, and none that no rule has', () => {
    const ids = new Set(criteria.map(({ id }) => id));
    expect(Object.keys(spanish.signs).toSorted()).toEqual([...ids].toSorted());
  });

  it('ends each sentence as a sentence', () => {
    const sentences = [
      ...[spanish.explanation, spanish.notTheCause],
      ...Object.values(spanish.signs),
      ...Object.values(spanish.signsAsSaid ?? {}),
    ];
    expect(sentences.filter((each) => each !== undefined && !each.endsWith('.'))).toEqual([]);
    expect(spanish.name).not.toMatch(/\.$/);
  });

  it('says of a symptom, and of nothing else, that it is not the cause', () => {
    expect(spanish.notTheCause !== undefined).toBe(role === 'symptom');
  });

  it('says what has to be looked at before it is blamed', () => {
    for (const { statement } of exclusions) {
      const entry = faultCatalog.find((each) => each.code === code);
      const exclusion = entry?.exclusions.find((each) => each.statement === statement);
      expect(lookedAtInSpanish(exclusion?.doneWhen ?? [])).toMatch(/^(si |\p{Ll})/u);
    }
  });

  it('speaks of the same charge readings as the English, on whatever machine', () => {
    const wrong = saidInGoldenCases
      .filter((said) => said.faultCode === code)
      .filter(({ statement, ...sign }) => {
        const own = signInSpanish(code, { statement, ...sign });
        return CHARGE_READINGS.some(
          ([english, words]) => english.test(statement) !== words.test(own),
        );
      });
    expect(wrong).toEqual([]);
  });

  it('says every figure that the English says: no limit and no size is lost or changed', () => {
    const figures = (text: string) => (text.match(/\d[\d.,]*\d|\d/g) ?? []).toSorted();
    const wrong = criteria.filter(
      (criterion) =>
        !figures(criterion.statement).every((figure) =>
          figures(signInSpanish(code, criterion)).includes(figure),
        ),
    );
    expect(wrong).toEqual([]);
  });
});

test('a sign and a figure that a stored verdict knows and no rule any more are still words', () => {
  const sign = { id: 'of_another_time', direction: 'for', statement: 'Of another time.' } as const;
  expect(signInSpanish('low_charge', sign)).toBe('Hay una señal que apoya este hallazgo.');
  expect(labelInSpanish('Figure of another time')).toBe('Medición');
});

test('any of several looks, and a reading, in words', () => {
  expect(
    lookedAtInSpanish([
      { observation: 'filter_dirty', answers: ['yes', 'no'] },
      { point: 'filter_drop', quantity: 'static_pressure' },
    ]),
  ).toBe('si el filtro está sucio; o presión estática, caída en el filtro');
  expect(readingInSpanish({ quantity: 'voltage', point: 'contactor_coil' })).toBe(
    'Voltaje, bobina del contactor',
  );
});
