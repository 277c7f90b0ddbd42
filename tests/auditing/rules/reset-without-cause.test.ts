import type { JobFacts } from '../../../src/auditing/index.ts';
import { breakerReset, capacitor, drainCleared, floatReset, jobOf, without } from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

const breaker = jobOf({ work: [breakerReset(), capacitor()] });

function looking(job: JobFacts, causeLookedFor: boolean, id?: string): JobFacts {
  return {
    ...job,
    findings: (job.findings ?? []).map((each) =>
      id === undefined || each.id === id ? { ...each, causeLookedFor } : each,
    ),
  };
}

// PRODUCT.md, "Reset": a reset without a recorded look for its cause is incomplete and says so.
holdRuleTo('reset_without_cause', [
  { name: 'holds where nothing was reset', job: looking(jobOf(), false), is: 'clear' },
  { name: 'holds where the cause was looked for', job: breaker, is: 'clear' },
  {
    name: 'says where no look for the cause is on record',
    job: looking(breaker, false),
    is: { says: ['Reset the breaker: no look for its cause is on record.'] },
  },
  {
    name: 'says so of each reset',
    job: looking(jobOf({ work: [breakerReset(), floatReset(), drainCleared()] }), false),
    is: {
      says: [
        'Reset the breaker: no look for its cause is on record.',
        'Reset the float switch: no look for its cause is on record.',
      ],
    },
  },
  {
    name: 'the class is the catalog’s, whatever is stored',
    job: looking(jobOf({ work: [breakerReset({ remedyClass: 'repair' })] }), false),
    is: { says: ['Reset the breaker: no look for its cause is on record.'] },
  },
  {
    name: 'a reset that was not done needs no cause',
    job: {
      ...looking(breaker, false),
      work: {
        uses: [],
        outcomes: [
          {
            quoteId: 'quote-1',
            findingId: 'finding-breaker',
            outcome: 'not_done',
            recordedAt: '2026-05-04T17:00:00Z',
          },
        ],
      },
    },
    is: 'clear',
  },
  {
    name: 'a reset needs its look on record also where nobody bought anything',
    job: { ...looking(breaker, false), documents: [], work: { outcomes: [], uses: [] } },
    is: { says: ['Reset the breaker: no look for its cause is on record.'] },
  },
  {
    name: 'cannot tell where it is not known what was looked for',
    job: {
      ...breaker,
      findings: (breaker.findings ?? []).map((each) => without(each, 'causeLookedFor')),
    },
    is: { missing: ['cause_search'] },
  },
  {
    name: 'one that is known speaks for itself',
    job: {
      ...breaker,
      findings: (jobOf({ work: [breakerReset(), floatReset()] }).findings ?? []).map((each) =>
        each.id === 'finding-float'
          ? { ...each, causeLookedFor: false }
          : without(each, 'causeLookedFor'),
      ),
    },
    is: { says: ['Reset the float switch: no look for its cause is on record.'] },
  },
  {
    name: 'cannot tell without findings',
    job: without(breaker, 'findings'),
    is: { missing: ['findings'] },
  },
  { name: 'cannot tell of a bill', job: billOf({ lump: 70_000 }), is: { missing: ['findings'] } },
]);
