import { describe, expect, it } from 'vitest';
import { priceBook } from '../../seed/price-book.ts';
import { applyChange } from '../../src/pricebook/drafts/apply-change.ts';
import { draftChangeSchema } from '../../src/pricebook/drafts/contract.ts';
import { bookContentSchema } from '../../src/pricebook/index.ts';

const { effectiveFrom: _, ...input } = priceBook;
const book = bookContentSchema.parse(input);
const apply = (change: object) => applyChange(book, draftChangeSchema.parse(change));

describe('a change of a draft', () => {
  it('that names nothing changes nothing, agreements and replacements least of all', () => {
    expect(book.agreements.length * book.replacements.length).toBeGreaterThan(0);
    expect(apply({})).toEqual({ outcome: 'applied', content: book });
    expect(apply({ note: 'Only a note' })).toEqual({ outcome: 'applied', content: book });
  });

  it.each(['agreements', 'replacements'] as const)('that empties the %s does so', (section) => {
    expect(apply({ [section]: [] })).toEqual({
      outcome: 'applied',
      content: { ...book, [section]: [] },
    });
  });

  it('may take out an entry and put it anew, in one go', () => {
    const [task, ...others] = book.tasks;
    if (task === undefined) throw new Error('the invented book has tasks');
    const anew = { ...task, minutes: 1 };
    expect(apply({ tasks: { put: [anew], remove: [task.code] } })).toEqual({
      outcome: 'applied',
      content: { ...book, tasks: [...others, anew] },
    });
  });

  it('may not take out one entry twice', () => {
    const code = book.parts[0]?.code;
    expect(apply({ parts: { remove: [code, code] } })).toMatchObject({
      outcome: 'refused',
      pointer: '/parts/remove/1',
    });
  });
});
