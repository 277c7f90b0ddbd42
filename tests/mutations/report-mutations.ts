import type { Mutation } from './mutation.ts';

const report = 'tests/audit-reports/report.test.ts';
const spread = 'tests/audit-reports/price-spread.test.ts';
const plots = 'tests/documents/plots.test.ts';

/** Mistakes in what the owner reads of a period. */
export const reportMutations: readonly Mutation[] = [
  {
    breaks: 'what the owner set aside is still said to be given back',
    database: true,
    file: 'src/audit-reports/count-jobs.ts',
    find: 'cannot_judge, open_cents FROM',
    replace: 'cannot_judge, over_cents AS open_cents FROM',
    caughtBy: { file: report, name: 'counts the jobs that ended in it, and what their open flags' },
  },
  {
    breaks: 'a period of any length is read',
    database: true,
    file: 'src/audit-reports/period.ts',
    find: 'jobs > jobsMax',
    replace: 'jobs < 0',
    caughtBy: { file: report, name: 'is refused where more jobs ended than one report reads' },
  },
  {
    breaks: 'jobs at the end of a slice are read with none',
    database: true,
    file: 'src/audit-reports/in-slices.ts',
    find: '[from, ...cuts.rows.map(({ at }) => at), to]',
    replace: '[from, ...cuts.rows.slice(1).map(({ at }) => at), cuts.rows.at(-1)?.at ?? to]',
    caughtBy: { file: report, name: 'is the same however many jobs are read at a time' },
  },
  {
    breaks: 'a job above its price says what is fair',
    file: 'src/audit-reports/price-spread.ts',
    find: '    work.above.push(job);\n    return;\n',
    replace: '    work.above.push(job);\n',
    caughtBy: { file: spread, name: 'count every job with a charge once' },
  },
  {
    breaks: 'a job that nobody could judge is at a fair price',
    file: 'src/audit-reports/price-spread.ts',
    find: '!job.isJudged',
    replace: '!job.isJudged && work.jobs < 0',
    caughtBy: { file: spread, name: 'hold no job at a fair price that nobody could judge' },
  },
  {
    breaks: 'a job that had to be put right was billed at a fair price',
    file: 'src/audit-reports/priced-job.ts',
    find: "state === 'accepted' && overCents > 0",
    replace: "state === 'accepted' && overCents < 0",
    caughtBy: {
      file: 'tests/audit-reports/priced-job.test.ts',
      name: 'was not fair where money went back',
    },
  },
  {
    breaks: 'what was added by hand and went back is taken off twice',
    file: 'src/audit-reports/adjustments-left-on.ts',
    find: 'amountCents: cents(sum - ofAdded)',
    replace: 'amountCents: cents(sum - 0 * ofAdded)',
    caughtBy: {
      file: 'tests/audit-reports/adjustments-left-on.test.ts',
      name: 'nothing once as much was given back',
    },
  },
  {
    breaks: 'a rule that nothing was there for is said to have held',
    file: 'src/audit-reports/rule-tally.ts',
    find: "return matter !== 'imported bill' && has[matter];",
    replace: "return matter !== 'imported bill' || has.bill;",
    caughtBy: {
      file: 'tests/audit-reports/rule-tally.test.ts',
      name: 'tells a rule that held from one that nothing was there for',
    },
  },
  {
    breaks: 'of what is good nobody is told to have less',
    file: 'src/auditing/patterns/patterns-of.ts',
    find: 'chance: row.chanceOfFewer }',
    replace: 'chance: row.chance }',
    caughtBy: {
      file: 'tests/auditing/patterns/patterns.test.ts',
      name: 'clearly less of the good than the others have is told',
    },
  },
  {
    breaks: 'one bill outside the band is hidden by one within it',
    file: 'src/documents/plots/plot-bands.ts',
    // biome-ignore lint/suspicious/noTemplateCurlyInString: it is the source that is changed.
    find: '`${isOutside} ${Math.round(toX(cents))}`',
    // biome-ignore lint/suspicious/noTemplateCurlyInString: it is the source that is changed.
    replace: '`${Math.round(toX(cents))}`',
    caughtBy: { file: plots, name: 'draws ten thousand bills in a small picture' },
  },
  {
    breaks: 'of many jobs above their price the furthest is left out',
    file: 'src/documents/plots/plot-prices.ts',
    find: 'for (const { atMostCents, chargedCents } of above) {',
    replace: 'for (const { atMostCents, chargedCents } of above.slice(0, 1_000)) {',
    caughtBy: { file: plots, name: 'stays small however many jobs there are' },
  },
];
