import { crashLoops } from './crash-loops.ts';
import { type Undo, undoAll } from './temporary.ts';

// `npm run crash` kills the service and its database fifty times each under eight people at work, and
// tells what was left; `npm run crash -- 5` as often as it says.
const kills = Number(process.argv[2] ?? 50);
const undo: Undo = [];
try {
  const report = await crashLoops(undo, { kills, writers: 8, writesBetween: 100 });
  const { written, readyMs } = report;
  const codes = written.troubles.map(({ code }) => code);
  console.log(`
${kills} kills of the service and ${kills} of the database under 8 people at work
  ${written.writes} writes acknowledged, ${written.jobsDone} jobs from the call to the issued quote, ${report.optionsRepriced} prices computed again
  lost ${report.lost.length}, doubled ${report.doubled.length}, half quotes ${report.halfQuotes.length}, faults of the journal ${report.journalFaults.length}, refused ${written.refused.length}
  told to try again: ${[...new Set(codes)].map((code) => `${code} ${codes.filter((one) => one === code).length}`).join(', ')}
  ready again after: service ${spread(readyMs.service)}; database ${spread(readyMs.database)}`);
  const wrong = [report.lost, report.doubled, report.halfQuotes, report.journalFaults];
  for (const each of [...wrong, written.refused].flat()) console.log(`  ${each}`);
  process.exitCode = [...wrong, written.refused].flat().length === 0 ? 0 : 1;
} finally {
  await undoAll(undo);
}

function spread(ms: readonly number[]): string {
  const sorted = ms.toSorted((one, other) => one - other);
  const at = (share: number) => Math.round(sorted[Math.floor((sorted.length - 1) * share)] ?? 0);
  return `half within ${at(0.5)} ms, all within ${at(1)} ms`;
}
