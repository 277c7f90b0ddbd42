import { setImmediate as turn } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { loadedAhead } from '../../src/audits/loaded-ahead.ts';

describe('what is loaded ahead', () => {
  it('is worked on in its order, while the next is loaded already', async () => {
    const told: string[] = [];
    await loadedAhead(
      [1, 2, 3],
      async (slice) => {
        told.push(`load ${slice}`);
        await turn();
        return slice * 10;
      },
      async (loaded) => {
        told.push(`work ${loaded}`);
      },
    );
    expect(told).toEqual(['load 1', 'load 2', 'work 10', 'load 3', 'work 20', 'work 30']);
  });

  it('is nothing where there is nothing to load', async () => {
    await loadedAhead([], refuse, refuse);
  });

  it('has ended when the work fails, because both may share one transaction', async () => {
    let underWay = 0;
    const failing = loadedAhead(
      [1, 2],
      async () => {
        underWay += 1;
        await turn();
        await turn();
        underWay -= 1;
      },
      refuse,
    );
    await expect(failing).rejects.toThrow('refused');
    expect(underWay).toBe(0);
  });

  it('fails with what could not be loaded, and works on nothing after it', async () => {
    const worked: number[] = [];
    const failing = loadedAhead([1, 2, 3], loadAllBut(2), async (loaded) => {
      worked.push(loaded);
    });
    await expect(failing).rejects.toThrow('2 cannot be loaded');
    expect(worked).toEqual([1]);
  });
});

function loadAllBut(missing: number): (slice: number) => Promise<number> {
  return async (slice) => {
    if (slice === missing) throw new Error(`${slice} cannot be loaded`);
    return slice;
  };
}

async function refuse(): Promise<void> {
  throw new Error('refused');
}
