import { describe, expect, it } from 'vitest';
import { fillText, rulesThatApply, unknownNames } from '../../src/consumer-law/index.ts';

describe('a rule applies from its amount on', () => {
  // 16 CFR 429.0(a): a sale of 25 dollars or more at the buyer's residence.
  it.each([
    [2_499, false],
    [2_500, true],
    [2_501, true],
  ])('a sale of %i cents under a rule from 25.00: %s', (totalCents, applies) => {
    expect(rulesThatApply([{ appliesFromCents: 2_500 }], totalCents)).toHaveLength(applies ? 1 : 0);
  });
});

describe('a text names the company', () => {
  const facts = {
    company: 'Sparrowgate Home Comfort',
    address: '14 Millrace Lane, Wrenfield',
    phone: '555-0100',
    email: 'office@sparrowgate.example.com',
    license: 'INVENTED-0417',
    regulator: 'Quill County Board',
  };

  it('with its own facts, wherever it says so, and nothing else is touched', () => {
    expect(fillText('Write to {company}, {address}; {company}, {phone}. {x} $1', facts)).toBe(
      'Write to Sparrowgate Home Comfort, 14 Millrace Lane, Wrenfield; Sparrowgate Home Comfort, 555-0100. {x} $1',
    );
  });

  it('and says which names it does not know', () => {
    expect(unknownNames('{company} {Company} {} {date}')).toEqual(['Company', '', 'date']);
  });
});
