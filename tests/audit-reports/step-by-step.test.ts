import { expect, it } from 'vitest';
import { stepByStep } from '../../src/audit-reports/step-by-step.ts';

it('between two steps of long work, whoever waited before has a turn; the end is handed on', async () => {
  const order: string[] = [];
  function* work(): Generator<void, string> {
    order.push('one step');
    yield;
    order.push('another');
    return 'done';
  }
  setImmediate(() => order.push('somebody else'));
  expect(await stepByStep(work())).toBe('done');
  expect(order).toEqual(['one step', 'somebody else', 'another']);
});
