import { describe, expect, it } from 'vitest';
import { readWork } from '../../../src/auditing/bills/read-work.ts';
import { everydayDoubts, everydayWordings } from './everyday-wordings.ts';

describe('what bills of small calls say was done', () => {
  it.each(everydayWordings)('found “$found”, done “$done”', ({ found, done, work }) => {
    const read = readWork({ found, done });
    expect(read).toMatchObject({ outcome: 'understood' });
    if (read.outcome !== 'understood') return;
    expect(read.work.map(({ taskCodes }) => [...taskCodes].sort())).toEqual(
      work.map((each) => [...each].sort()),
    );
  });

  it.each(everydayDoubts)('leaves a doubt: found “$found”, done “$done”', ({ found, done }) => {
    expect(readWork({ found, done }).outcome).toBe('not_understood');
  });
});
