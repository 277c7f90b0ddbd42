import { describe, expect, it } from 'vitest';
import { coveredBy, faultCatalog, taskCodeSchema } from '../../src/trade/index.ts';

/** Which tasks take a kind of part, by the catalog. */
function tasksWith(category: string): string[] {
  const remedies = faultCatalog.flatMap((fault) => fault.remedies);
  const taking = remedies.filter(({ partCategories }) =>
    partCategories.some((one) => one === category),
  );
  return [...new Set(taking.map(({ task }) => task))];
}

describe('work that is done with other work is not paid beside it', () => {
  it.each(tasksWith('refrigerant').filter((task) => task !== 'add_refrigerant'))(
    '%s ends with its charge: nobody pays for adding refrigerant beside it',
    (task) => {
      expect(coveredBy(taskCodeSchema.parse(task))).toContain('add_refrigerant');
    },
  );

  it('no two tasks cover each other, so one of them always remains', () => {
    for (const task of taskCodeSchema.options) {
      for (const covered of coveredBy(task)) {
        expect(coveredBy(taskCodeSchema.parse(covered)), `${task} and ${covered}`).not.toContain(
          task,
        );
      }
    }
  });

  it('what is covered by a covered task is covered too', () => {
    for (const task of taskCodeSchema.options) {
      const covered = coveredBy(task);
      for (const one of covered) {
        expect(covered, `${task} covers ${one}`).toEqual(
          expect.arrayContaining([...coveredBy(taskCodeSchema.parse(one))]),
        );
      }
    }
  });
});
