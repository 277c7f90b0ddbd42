import type { JobFacts } from '../../../src/auditing/index.ts';
import { capacitor, contactor, documentOf, jobOf, without, withoutOfDocument } from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

// The yes of quote 1001 was given at 16:10 on May 4, 2026.
const yes = '2026-05-04T16:10:00Z';

function recorded(job: JobFacts, { done, use }: { done?: string; use?: string }): JobFacts {
  const { outcomes = [], uses = [] } = job.work ?? {};
  const early = (findingId: string) => findingId === 'finding-capacitor';
  return {
    ...job,
    work: {
      outcomes: outcomes.map((each) => ({
        ...each,
        recordedAt: (early(each.findingId) && done) || each.recordedAt,
      })),
      uses: uses.map((each) => ({
        ...each,
        recordedAt: (early(each.findingId) && use) || each.recordedAt,
      })),
    },
  };
}

/** Beside it the same was recorded under a quote of which nothing was billed. */
function underAnotherQuote(recordedAt: string): JobFacts {
  const job = jobOf();
  const { outcomes = [], uses = [] } = job.work ?? {};
  const earlier = <Fact extends object>(fact: Fact) => ({
    ...fact,
    quoteId: 'quote-0',
    recordedAt,
  });
  return {
    ...job,
    work: {
      outcomes: [...outcomes, ...outcomes.map(earlier)],
      uses: [...uses, ...uses.map(earlier)],
    },
  };
}

/** The same work, recorded at a visit that somebody left at an instant, or has not left. */
function atVisit(leftAt: string | null, job: JobFacts = jobOf()): JobFacts {
  const { outcomes = [], uses = [] } = job.work ?? {};
  const there = <Fact extends object>(fact: Fact) => ({ ...fact, visitId: 'visit-1' });
  return {
    ...job,
    visits: (job.visits ?? []).map((visit) => ({ ...visit, leftAt })),
    work: { outcomes: outcomes.map(there), uses: uses.map(there) },
  };
}

/** Both open the same panel, whose way in is a line of its own. */
const both = jobOf({ work: [capacitor({ accessMinutes: 20 }), contactor({ accessMinutes: 20 })] });
const alone = jobOf({ work: [capacitor({ accessMinutes: 20 })] });

const task = 'Replace the dual run capacitor';

// Nothing later in the chain may exist without what comes before it: PRODUCT.md, "The chain".
holdRuleTo('work_before_yes', [
  { name: 'holds where the yes came first', job: jobOf(), is: 'clear' },
  {
    name: 'holds at the very second of the yes',
    job: recorded(jobOf(), { done: yes, use: yes }),
    is: 'clear',
  },
  {
    name: 'half a second after the yes is after it, though as a text it would come first',
    job: recorded(jobOf(), { done: '2026-05-04T16:10:00.500Z', use: '2026-05-04T16:10:00.500Z' }),
    is: 'clear',
  },
  {
    name: 'what was done before the yes is looked at, with what rests on it',
    job: recorded(jobOf(), { done: '2026-05-04T15:40:00Z' }),
    is: {
      says: [
        `${task}: recorded as done 30 minutes before the yes to quote 1001. Its charges of $168.45 rest on a yes that came after the work. Please look at when the customer really agreed.`,
      ],
    },
  },
  {
    name: 'what was done under another quote before this yes is no matter of it',
    job: underAnotherQuote('2026-05-04T14:00:00Z'),
    is: 'clear',
  },
  {
    name: 'cannot tell where the yes to one of two is not known',
    job: {
      ...jobOf(),
      documents: [
        documentOf(jobOf()),
        { ...documentOf(withoutOfDocument(jobOf(), 'agreed')), position: 2 },
      ],
    },
    is: { missing: ['work'] },
  },
  {
    name: 'a part that went in before the yes is work before the yes',
    job: recorded(jobOf(), { use: '2026-05-04T16:09:59.5Z' }),
    is: {
      says: [
        `${task}: a part recorded as put in less than a minute before the yes to quote 1001. Its charges of $168.45 rest on a yes that came after the work. Please look at when the customer really agreed.`,
      ],
    },
  },
  {
    name: 'the first record counts where both are early',
    job: recorded(jobOf(), { done: '2026-05-04T14:00:00Z', use: '2026-05-02T15:00:00Z' }),
    is: {
      says: [
        `${task}: a part recorded as put in 2 days before the yes to quote 1001. Its charges of $168.45 rest on a yes that came after the work. Please look at when the customer really agreed.`,
      ],
    },
  },
  {
    // 20 min at 151.00 = 50.3333 -> 50.33 with 168.45.
    name: 'the way in goes with it where nothing else needed it',
    job: recorded(alone, { done: '2026-05-04T13:10:00Z' }),
    is: {
      says: [
        `${task}: recorded as done 3 hours before the yes to quote 1001. Its charges of $218.78 rest on a yes that came after the work. Please look at when the customer really agreed.`,
      ],
    },
  },
  {
    name: 'the way in stays where other work of the same panel waited for the yes',
    job: recorded(both, { done: '2026-05-04T13:10:00Z' }),
    is: {
      says: [
        `${task}: recorded as done 3 hours before the yes to quote 1001. Its charges of $168.45 rest on a yes that came after the work. Please look at when the customer really agreed.`,
      ],
    },
  },
  {
    name: 'work written down after the yes at a visit that was over before it',
    job: atVisit('2026-05-04T15:40:00Z'),
    is: {
      says: [
        `${task}: recorded as done at a visit that was over 30 minutes before the yes to quote 1001. Its charges of $168.45 rest on a yes that came after the work. Please look at when the customer really agreed.`,
      ],
    },
  },
  {
    name: 'a part written down after the yes at a visit that was over before it',
    job: {
      ...atVisit('2026-05-04T15:40:00Z'),
      work: { outcomes: [], uses: atVisit(null).work?.uses ?? [] },
    },
    is: {
      says: [
        `${task}: a part recorded as put in at a visit that was over 30 minutes before the yes to quote 1001. Its charges of $168.45 rest on a yes that came after the work. Please look at when the customer really agreed.`,
      ],
    },
  },
  {
    name: 'the earlier of both is said once: the record itself is from before the visit was over',
    job: recorded(atVisit('2026-05-04T15:40:00Z'), { done: '2026-05-04T15:10:00Z' }),
    is: {
      says: [
        `${task}: recorded as done 60 minutes before the yes to quote 1001. Its charges of $168.45 rest on a yes that came after the work. Please look at when the customer really agreed.`,
      ],
    },
  },
  { name: 'a visit that was over at the very second of the yes', job: atVisit(yes), is: 'clear' },
  {
    name: 'a visit that was over after the yes',
    job: atVisit('2026-05-04T17:30:00Z'),
    is: 'clear',
  },
  { name: 'a visit that nobody has left', job: atVisit(null), is: 'clear' },
  {
    name: 'cannot tell at a visit that is not among those known',
    job: { ...atVisit('2026-05-04T15:40:00Z'), visits: [] },
    is: { missing: ['visits'] },
  },
  {
    name: 'cannot tell at a visit where no visits are known',
    job: without(atVisit('2026-05-04T15:40:00Z'), 'visits'),
    is: { missing: ['visits'] },
  },
  {
    name: 'what was recorded early is looked at though its visit is not known',
    job: without(recorded(atVisit(null), { done: '2026-05-04T15:40:00Z' }), 'visits'),
    is: {
      says: [
        `${task}: recorded as done 30 minutes before the yes to quote 1001. Its charges of $168.45 rest on a yes that came after the work. Please look at when the customer really agreed.`,
      ],
    },
  },
  {
    name: 'what was not done was not done early',
    job: {
      ...jobOf(),
      work: {
        uses: [],
        outcomes: [
          {
            quoteId: 'quote-1',
            findingId: 'finding-capacitor',
            outcome: 'not_done',
            recordedAt: '2026-05-04T15:40:00Z',
          },
        ],
      },
    },
    is: 'clear',
  },
  {
    name: 'holds where only the fee was billed',
    job: { ...jobOf(), documents: [{ ...documentOf(jobOf()), kind: 'visit_fee' }] },
    is: 'clear',
  },
  {
    name: 'cannot tell without the record of work',
    job: without(jobOf(), 'work'),
    is: { missing: ['work'] },
  },
  {
    name: 'cannot tell without when the yes was given',
    job: withoutOfDocument(jobOf(), 'agreed'),
    is: { missing: ['work'] },
  },
  { name: 'cannot tell of a bill', job: billOf({ lump: 70_000 }), is: { missing: ['work'] } },
]);
