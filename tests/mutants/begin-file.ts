import path from 'node:path';
import { beforeEach } from 'vitest';
import { forgetAnswers } from './answers-of-test.ts';
import { roomOfProcess } from './mutated-rooms.ts';

/**
 * They count in how many of thousands of cases something was met, and there are a hundred here; or
 * they compare a thousand companies, which takes minutes where every step is counted.
 */
const countsCases = [
  'whatever anybody adjusts, the owner included (adjust-charges: raised by a cent)',
  'are refused for every option with goods, and for no other',
  'and the random quotes do hold every kind of line and every refusal',
  'somebody stands out in about as few of a thousand companies as was asked for',
  'and two who do it three times as often do, nearly always, and nearly nobody with them',
  'what comes to speak for a fault, with nothing more against it, never lowers it',
];

forgetMutant();
beginCoverage();
await readRoom();
beforeEach(({ task, skip }) => {
  forgetAnswers();
  if (countsCases.includes(task.name)) skip();
});

/** What is made while a file of tests is read is not made by the mutant of the file before. */
function forgetMutant(): void {
  const shared: unknown = Reflect.get(globalThis, '__stryker__');
  if (isRecord(shared)) shared['activeMutant'] = undefined;
}

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
