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
    find: 'cents(Math.min(openSum, row.overCents))',
    replace: 'cents(row.overCents)',
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
