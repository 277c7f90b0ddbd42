import type { JobFacts, JobFinding } from '../../../src/auditing/index.ts';
import { documentOf, jobOf, without, withoutOfDocument } from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

function resting(changes: Partial<JobFinding>): JobFacts {
  const job = jobOf();
  return { ...job, findings: (job.findings ?? []).map((each) => ({ ...each, ...changes })) };
}

// Quote 1001 was issued at 16:00 on May 4, 2026. PRODUCT.md: a price traces back to a reading.
holdRuleTo('reading_after_quote', [
  { name: 'holds where the readings came first', job: jobOf(), is: 'clear' },
  {
    name: 'holds at the very moment',
    job: resting({ lastReadingAt: '2026-05-04T16:00:00Z' }),
    is: 'clear',
  },
  {
    name: 'asks for a look where the last reading came after the quote',
    job: resting({ lastReadingAt: '2026-05-04T16:25:00.250Z' }),
    is: {
      says: [
        'Weak or failed run capacitor, compressor section: the last reading that it rests on was taken 25 minutes after quote 1001 was issued. Please look at what the price rested on.',
      ],
    },
  },
  {
    name: 'holds where it rests on what was seen alone',
    job: {
      ...jobOf(),
      findings: (jobOf().findings ?? []).map((each) => without(each, 'lastReadingAt')),
    },
    is: 'clear',
  },
  {
    name: 'a finding that the quote does not sell is not its matter',
    job: resting({ id: 'finding-2', lastReadingAt: '2026-05-04T16:25:00Z' }),
    is: 'clear',
  },
  {
    name: 'the fee rests on no reading',
    job: {
      ...resting({ lastReadingAt: '2026-05-04T16:25:00Z' }),
      documents: [{ ...documentOf(jobOf()), kind: 'visit_fee' }],
    },
    is: 'clear',
  },
  {
    name: 'cannot tell without findings',
    job: without(jobOf(), 'findings'),
    is: { missing: ['findings'] },
  },
  {
    name: 'cannot tell without when the quote was issued',
    job: withoutOfDocument(jobOf(), 'agreed'),
    is: { missing: ['readings'] },
  },
  { name: 'cannot tell of a bill', job: billOf({ lump: 70_000 }), is: { missing: ['findings'] } },
]);
