import { setImmediate as nextTurn } from 'node:timers/promises';

/** Takes long work to its end step by step, and lets whoever else waits have a turn between two. */
export async function stepByStep<Result>(steps: Generator<void, Result>): Promise<Result> {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    await nextTurn();
  }
}
