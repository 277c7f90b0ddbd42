import { describe, expect, it } from 'vitest';
import { capacitorWork, workedInvoice } from './oracle/hand-worked.ts';
import { pricedOption } from './price.ts';

describe('the access lines of a system', () => {
  it('stand by the name of the way, whichever task needs it first', () => {
    // By task the order is wall, attic, ground; the task codes themselves are in order.
    const work = ['wall', 'attic', 'ground'].map((accessGroup, at) =>
      capacitorWork({
        findingId: `finding-${at}`,
        taskCode: `task_${at}`,
        accessGroup,
        accessMinutes: 10,
      }),
    );
    for (const made of [work, work.toReversed()]) {
      const { lines } = pricedOption({
        ...workedInvoice({}),
        options: [{ title: 'Repair', work: made, adjustments: [] }],
      });
      const ways = lines.flatMap((line) => (line.kind === 'access' ? [line.code] : []));
      expect(ways).toEqual(['attic', 'ground', 'wall']);
    }
  });
});
