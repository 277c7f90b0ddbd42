import type { Mutation } from './mutation.ts';

const rule = (name: string) => `src/auditing/rules/${name}.ts` as const;
const cases = (name: string) => `tests/auditing/rules/${name}.test.ts` as const;
const patterns = 'tests/auditing/patterns/patterns.test.ts';
const minutes = 'tests/auditing/book/minutes-beside-jobs.test.ts';
const costs = 'tests/auditing/book/part-costs-beside-bills.test.ts';
const readings = 'tests/auditing/readings/reading-patterns.test.ts';

/** Mistakes in the rules about work, time and evidence, and in what is seen over many jobs. */
export const evidenceAuditMutations: readonly Mutation[] = [
  {
    breaks: 'a part that mends two findings is held against itself',
    file: rule('duplicate-part'),
    find: '        !line.findingIds.some((id) => id === repair.findingId) &&\n',
    replace: '',
    caughtBy: {
      file: cases('duplicate-part'),
      name: 'a part that mends two findings is never held against itself by the other of them',
    },
  },
  {
    breaks: 'what came back within its labor warranty is told twice',
    file: rule('duplicate-part'),
    find: '    !cameBack(repair, finding, day, visits)\n',
    replace: '    true\n',
    caughtBy: {
      file: cases('duplicate-part'),
      name: 'leaves the same fault within its labor warranty to the rule of recalls',
    },
  },
  {
    breaks: 'a leftover that was taken off already is given back again',
    file: rule('parts-not-used'),
    find: 'if (own === undefined || toCents >= leftCents) return [];',
    replace: 'if (own === undefined) return [];',
    caughtBy: {
      file: cases('parts-not-used'),
      name: 'a leftover that was taken off already is not owed again',
    },
  },
  {
    breaks: 'parts that went in under another quote count for this one',
    file: rule('parts-not-used'),
    find: 'use.quoteId === quoteId && use.partCode === code',
    replace: 'use.partCode === code',
    caughtBy: {
      file: cases('parts-not-used'),
      name: 'what went in under another quote does not count for this one',
    },
  },
  {
    breaks: 'refrigerant is a trifle more put in than billed, by a binary fraction',
    file: rule('parts-not-used'),
    find: 'return Math.round(Number(quantity) * 1_000);',
    replace: 'return Number(quantity) * 1_000;',
    caughtBy: {
      file: cases('parts-not-used'),
      name: 'thousandths add up, though no binary fraction holds them',
    },
  },
  {
    breaks: 'gauges are attached by anybody',
    file: rule('refrigerant-without-record'),
    find: 'if (!isHandled && !gaugesUsed) return [];',
    replace: 'if (!isHandled) return [];',
    caughtBy: { file: cases('refrigerant-without-record'), name: 'says so for gauges alone' },
  },
  {
    breaks: 'refrigerant is sold without a scale',
    file: rule('refrigerant-without-record'),
    find: 'refrigerant.movesRecorded > 0',
    replace: 'refrigerant.movesRecorded >= 0',
    caughtBy: {
      file: cases('refrigerant-without-record'),
      name: 'says where refrigerant was sold and never weighed',
    },
  },
  {
    breaks: 'work that was not done is held to have been done early',
    file: rule('work-before-yes'),
    find: "      .filter(({ outcome }) => outcome === 'done')\n",
    replace: '',
    caughtBy: { file: cases('work-before-yes'), name: 'what was not done was not done early' },
  },
  {
    breaks: 'a way in that other work needed counts as early',
    file: rule('work-before-yes'),
    find: 'findingIds.every((id) => earlyIds.has(id))',
    replace: 'findingIds.some((id) => earlyIds.has(id))',
    caughtBy: {
      file: cases('work-before-yes'),
      name: 'the way in stays where other work of the same panel waited for the yes',
    },
  },
  {
    breaks: 'work at a visit that was over before the yes passes, if it was written down late',
    file: rule('work-before-yes'),
    find: 'millisecondsBetween(leftAt, recordedAt) > 0\n',
    replace: 'millisecondsBetween(leftAt, recordedAt) > Infinity\n',
    caughtBy: {
      file: cases('work-before-yes'),
      name: 'work written down after the yes at a visit that was over before it',
    },
  },
  {
    breaks: 'a quarter hour that was begun is not paid',
    file: rule('hours-beyond-clock'),
    find: 'Math.ceil(clockMinutes / STEP_MINUTES)',
    replace: 'Math.floor(clockMinutes / STEP_MINUTES)',
    caughtBy: {
      file: cases('hours-beyond-clock'),
      name: 'holds for the quarter hour that was begun',
    },
  },
  {
    breaks: 'a look from the door is taken for work',
    file: rule('cancelled-after-time-on-site'),
    find: 'if (stayedMs <= MINUTES_MAX * MINUTE_MS) return [];',
    replace: 'if (stayedMs < MINUTES_MAX * MINUTE_MS) return [];',
    caughtBy: {
      file: cases('cancelled-after-time-on-site'),
      name: 'holds for a quarter of an hour',
    },
  },
  {
    breaks: 'a reading taken when the quote was written passes',
    file: rule('reading-after-quote'),
    find: 'if (millisecondsBetween(agreed.issuedAt, lastReadingAt) <= 0) return [];',
    replace: 'if (millisecondsBetween(agreed.issuedAt, lastReadingAt) <= 1_800_000) return [];',
    caughtBy: {
      file: cases('reading-after-quote'),
      name: 'asks for a look where the last reading came after the quote',
    },
  },
  {
    breaks: 'instants with a fraction of a second are compared as texts',
    file: rule('span-text'),
    find: 'return Date.parse(to) - Date.parse(from);',
    replace: 'return from < to ? Math.abs(Date.parse(to) - Date.parse(from)) : -1;',
    caughtBy: {
      file: cases('work-before-yes'),
      name: 'half a second after the yes is after it, though as a text it would come first',
    },
  },
  {
    breaks: 'a reset by its stored class alone needs no cause',
    file: rule('reset-without-cause'),
    find: 'function hasCauseBehind({ faultCode, taskCode }: JobFinding): boolean {\n  return isReset(taskCode)',
    replace:
      "function hasCauseBehind({ faultCode, remedyClass }: JobFinding): boolean {\n  return remedyClass === 'reset'",
    caughtBy: {
      file: cases('reset-without-cause'),
      name: 'the class is the catalog’s, whatever is stored',
    },
  },
  {
    breaks: 'a tax that is told is said to be hidden',
    file: rule('sum-not-split'),
    find: '...(isTaxTold(document) ? []',
    replace: '...(lumpCents === 0 ? []',
    caughtBy: { file: cases('sum-not-split'), name: 'does not miss a tax that is told' },
  },
  {
    breaks: 'a job with two tasks is counted against both',
    file: 'src/auditing/patterns/tally-jobs.ts',
    find: 'return first === undefined || others.length > 0 ? null : first;',
    replace: 'return first === undefined || others.length > 9 ? null : first;',
    caughtBy: {
      file: patterns,
      name: 'a task is counted where it was the only one, and so is a kind of part',
    },
  },
  {
    breaks: 'whoever is sent to old systems is blamed for them',
    file: 'src/auditing/patterns/kind-of-job.ts',
    find: 'ageClassOf(systemAgeYears)',
    replace: 'ageClassOf(null)',
    caughtBy: { file: patterns, name: 'nobody is blamed for old systems, nor for the season' },
  },
  {
    breaks: 'many looks are taken for one',
    file: 'src/auditing/patterns/patterns-of.ts',
    find: 'const look = looks.get(pattern) ?? pattern.rows;',
    replace: 'const look = looks.size < 0 ? [] : pattern.rows;',
    caughtBy: {
      file: patterns,
      name: 'everything on one page is adjusted for everything on it, praise apart',
    },
  },
  {
    breaks: 'who is cheap stands out',
    file: 'src/auditing/patterns/amounts-of.ts',
    find: 'score > STANDS_OUT_ABOVE',
    replace: 'Math.abs(score) > STANDS_OUT_ABOVE',
    caughtBy: {
      file: 'tests/auditing/patterns/amounts-of.test.ts',
      name: 'who is cheap does not stand out',
    },
  },
  {
    breaks: 'a padded book passes, for its tolerance is taken twice',
    file: 'src/auditing/book/minutes-beside-jobs.ts',
    find: 'each * (100 + TOLERANCE_PERCENT) <',
    replace: 'each * (100 + 2 * TOLERANCE_PERCENT) <',
    caughtBy: {
      file: minutes,
      name: 'up to a fifth more than the jobs take is let pass: 48 of 40 minutes, but not 49',
    },
  },
  {
    breaks: 'one cheap lot makes the book wrong',
    file: 'src/auditing/book/part-costs-beside-bills.ts',
    find: 'book * 100 > Math.max(latest, middle)',
    replace: 'book * 100 > Math.min(latest, middle)',
    caughtBy: { file: costs, name: 'one cheap lot does not make the book wrong' },
  },
  {
    breaks: 'the same home twice counts as a repeated value',
    file: 'src/auditing/readings/count-repeated.ts',
    find: 'first === undefined || first.siteId === reading.siteId',
    replace: 'first === undefined',
    caughtBy: { file: readings, name: 'the same home twice may well read the same' },
  },
  {
    breaks: 'a reading far past its limit counts as just past it',
    file: 'src/auditing/readings/count-bunched.ts',
    find: 'NEAR_SHARE * rating',
    replace: '2 * NEAR_SHARE * rating',
    caughtBy: { file: readings, name: ' uF of 45 uF is ' },
  },
];
