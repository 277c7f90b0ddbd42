import { expect, test } from 'vitest';
import { aboutReplacing } from '../../src/quotes/about-replacing.ts';
import type { OptionFacts } from '../../src/quotes/repair-or-replace-of.ts';
import { repairOrReplace } from '../../src/repair-or-replace/index.ts';
import { machineOf, repairFor } from '../repair-or-replace/facts.ts';

const facts = (ageYears: number, dollars: number) => ({
  equipmentId: 'unit-1',
  ...repairOrReplace(machineOf(ageYears), repairFor(dollars), []),
});
const option = (...machines: OptionFacts['machines']): OptionFacts => ({
  optionId: 'option-1',
  position: 1,
  title: 'Repair',
  installsEquipment: false,
  machines,
});
const talks = facts(12, 500);
const repairs = facts(10, 350);

test('a quote that only repairs has no such block', () => {
  expect(aboutReplacing([option(repairs), option()])).toEqual([]);
});

test('however many options talk, there is one block, and it begins with the repair', () => {
  const blocks = aboutReplacing([option(talks), option(repairs), option(facts(14, 900))]);
  expect(blocks).toHaveLength(1);
  expect(blocks[0]?.text).toMatch(
    /^Repair: .*12 years times \$500.*Repair: .*14 years times \$900/,
  );
});

test('the same words are printed once', () => {
  expect(aboutReplacing([option(talks), option(talks)])[0]?.text).toBe(talks.sentence);
});

test('where an option mends several machines, no amount of one of them is printed', () => {
  const [block] = aboutReplacing([option(talks, repairs)]);
  expect(block?.text).toMatch(/^Repair: /);
  expect(block?.text).not.toMatch(/\$|\d/);
});
