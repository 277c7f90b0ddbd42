import { describe, expect, it } from 'vitest';
import { takeTurns } from '../../src/platform/take-turns.ts';

/** Promises that are kept one by one, when the test says so. */
function gate() {
  const waiting: (() => void)[] = [];
  const arrivals: (() => void)[] = [];
  let come = 0;
  return {
    /** What a turn waits at. */
    pass: () =>
      new Promise<void>((resolve) => {
        come += 1;
        waiting.push(resolve);
        for (const arrived of arrivals.splice(0)) arrived();
      }),
    /** Until so many turns have come to the gate. */
    reached: async (count: number) => {
      while (come < count) await new Promise<void>((resolve) => arrivals.push(resolve));
    },
    open: () => waiting.shift()?.(),
    waiting: () => waiting.length,
    come: () => come,
  };
}

const quiet = () => undefined;

describe('work that is done again and again', () => {
  it('begins at once, and begins again only after it ended', async () => {
    const door = gate();
    const turns = takeTurns(door.pass, 0, quiet);
    expect(door.come()).toBe(1);
    for (let turn = 2; turn <= 4; turn += 1) {
      expect(door.waiting()).toBe(1);
      door.open();
      await door.reached(turn);
    }
    const stopped = turns.stop();
    door.open();
    await stopped;
  });

  it('is told of a failure, and tries again', async () => {
    const door = gate();
    const failures: unknown[] = [];
    let turn = 0;
    const failing = async () => {
      turn += 1;
      if (turn === 1) throw new Error('the first one failed');
      await door.pass();
    };
    const turns = takeTurns(failing, 0, (error) => failures.push(error));
    await door.reached(1);
    expect(failures).toEqual([new Error('the first one failed')]);
    const stopped = turns.stop();
    door.open();
    await stopped;
  });

  it('is stopped between two pieces, after the one that is under way', async () => {
    const door = gate();
    const pieces = async (isStopping: () => boolean) => {
      do await door.pass();
      while (!isStopping());
    };
    const turns = takeTurns(pieces, 0, quiet);
    door.open();
    await door.reached(2);
    let isOver = false;
    const stopped = turns.stop().then(() => {
      isOver = true;
    });
    await Promise.resolve();
    expect(isOver).toBe(false);
    door.open();
    await stopped;
    expect(door.come()).toBe(2);
  });

  it('does nothing after it was stopped, neither between turns nor after a failed one', async () => {
    for (const failed of [false, true]) {
      let turns = 0;
      const end = gate();
      const running = takeTurns(
        async () => {
          turns += 1;
          await end.pass();
          if (failed) throw new Error('on the way out');
        },
        0,
        quiet,
      );
      const stopped = running.stop();
      end.open();
      await stopped;
      // Whatever was due at once has had its time.
      await new Promise((resolve) => setTimeout(resolve, 5));
      expect(turns).toBe(1);
    }
  });
});
