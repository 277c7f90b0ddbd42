import { describe, expect, it } from 'vitest';
import { earlierWorkOf, pricingInputsSchema } from '../../src/pricing/index.ts';
import { capacitorWork, contactorWork, repairOf, workedInvoice } from './oracle/hand-worked.ts';
import { pricedOption } from './price.ts';

describe('what a change order has to know of the documents before it', () => {
  const quote = pricedOption({
    ...workedInvoice({}),
    options: repairOf([
      capacitorWork({ accessMinutes: 15 }),
      contactorWork(),
      capacitorWork({ findingId: 'finding-breaker', remedyClass: 'reset', parts: [] }),
    ]),
  });
  const earlierWork = earlierWorkOf([quote.lines]);

  it('is charged labor before its discounts, and access by system and group', () => {
    expect(earlierWork).toEqual({
      access: [{ systemId: 'system-1', accessGroup: 'condenser_electrical', minutes: 15 }],
      labor: [
        { taskName: 'Replace contactor', amountCents: 7550 },
        { taskName: 'Replace run capacitor', amountCents: 11325 },
      ],
    });
  });

  it('can be read from lines as they are stored, and put into the inputs of a price', () => {
    const stored: unknown = JSON.parse(JSON.stringify(quote.lines));
    expect(Array.isArray(stored) && earlierWorkOf([stored])).toEqual(earlierWork);
    const inputs = { ...workedInvoice({}), earlierWork };
    expect(pricingInputsSchema.parse(inputs).earlierWork).toEqual(earlierWork);
  });

  it('is nothing without documents', () => {
    expect(earlierWorkOf([])).toEqual({ access: [], labor: [] });
  });
});
