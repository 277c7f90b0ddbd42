import path from 'node:path';
import { beforeEach } from 'vitest';
import { roomOfProcess } from './mutated-rooms.ts';

/** They count in how many of thousands of cases something was met, and there are a hundred here. */
const countsCases = [
  'whatever anybody adjusts, the owner included (adjust-charges: raised by a cent)',
  'are refused for every option with goods, and for no other',
  'and the random quotes do hold every kind of line and every refusal',
  'what comes to speak for a fault, with nothing more against it, never lowers it',
];

beginCoverage();
await readRoom();
beforeEach(({ task, skip }) => {
  if (countsCases.includes(task.name)) skip();
});

/**
 * Files of tests share their modules here, and with them the record of which test reaches which
 * mutant. Each file hands in the whole record when it ends, so that each begins it anew.
 */
function beginCoverage(): void {
  const shared: unknown = Reflect.get(globalThis, '__stryker__');
  const coverage = isRecord(shared) ? shared['mutantCoverage'] : undefined;
  if (!isRecord(coverage)) return;
  coverage['static'] = {};
  coverage['perTest'] = {};
}

/** A mutant that cannot be read leaves no test that could fail; what nobody awaits is noticed. */
async function readRoom(): Promise<void> {
  try {
    await import(path.resolve(roomOfProcess?.entry ?? ''));
  } catch (error) {
    void Promise.reject(error);
  }
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}
