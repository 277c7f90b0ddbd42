import { afterEach, expect, it } from 'vitest';
import { crashLoops } from './crash-loops.ts';
import { type Undo, undoAll } from './temporary.ts';

const undo: Undo = [];
afterEach(() => undoAll(undo));

it('what was acknowledged outlives the service and the database being killed, once and whole', async () => {
  const report = await crashLoops(undo, { kills: 2, writers: 8, writesBetween: 60 });
  const { written } = report;
  expect(written.refused).toEqual([]);
  expect(report.lost).toEqual([]);
  expect(report.doubled).toEqual([]);
  expect(report.halfQuotes).toEqual([]);
  expect(report.journalFaults).toEqual([]);
  // It looked at something: jobs came to their end, and the kills were felt.
  expect(written.jobsDone).toBeGreaterThan(0);
  expect(report.optionsRepriced).toBeGreaterThan(0);
  expect(new Set(written.troubles.map(({ code }) => code))).toContain('cut');
}, 300_000);
