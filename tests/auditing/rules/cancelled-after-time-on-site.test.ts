import type { JobFacts, JobVisit } from '../../../src/auditing/index.ts';
import { jobOf, without } from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

function cancelled(...visits: Partial<JobVisit>[]): JobFacts {
  const [usual] = jobOf().visits ?? [];
  if (usual === undefined) throw new Error('a job has a visit');
  return {
    ended: 'cancelled',
    documents: [],
    visits: visits.map((visit) => ({ ...usual, arrivedAt: '2026-05-04T15:00:00Z', ...visit })),
  };
}

const says = (minutes: string) =>
  `The ticket was cancelled after ${minutes} on site. Please look at what was done there.`;

// More than 15 minutes is more than a look from the door: common practice, no source.
holdRuleTo('cancelled_after_time_on_site', [
  { name: 'holds for a job that was closed', job: jobOf(), is: 'clear' },
  { name: 'holds for a bill', job: billOf({ lump: 70_000 }), is: 'clear' },
  { name: 'holds where nobody was sent', job: cancelled(), is: 'clear' },
  {
    name: 'holds where nobody came',
    job: cancelled({ arrivedAt: null, leftAt: null }),
    is: 'clear',
  },
  {
    name: 'holds for a quarter of an hour',
    job: cancelled({ leftAt: '2026-05-04T15:15:00Z' }),
    is: 'clear',
  },
  {
    name: 'asks for a look after more',
    job: cancelled({ leftAt: '2026-05-04T15:42:30Z' }),
    is: { says: [says('42 minutes')] },
  },
  {
    name: 'asks for a look a second later',
    job: cancelled({ leftAt: '2026-05-04T15:15:01Z' }),
    is: { says: [says('15 minutes')] },
  },
  {
    name: 'says so of each visit',
    job: cancelled(
      { leftAt: '2026-05-04T15:05:00Z' },
      { leftAt: '2026-05-04T15:20:00Z' },
      { leftAt: '2026-05-04T17:00:00Z' },
    ),
    is: { says: [says('20 minutes'), says('120 minutes')] },
  },
  {
    // Nobody let them in: they waited at the door, and that is on record.
    name: 'holds for waiting at a door that nobody opened',
    job: cancelled({ state: 'no_access', leftAt: '2026-05-04T15:42:00Z' }),
    is: 'clear',
  },
  {
    name: 'a door that nobody opened excuses no other visit',
    job: cancelled(
      { state: 'no_access', leftAt: '2026-05-04T15:42:00Z' },
      { leftAt: '2026-05-04T15:20:00Z' },
    ),
    is: { says: [says('20 minutes')] },
  },
  {
    name: 'says that no finding was written down only where that is known',
    job: { ...cancelled({ leftAt: '2026-05-04T15:42:00Z' }), findings: [] },
    is: {
      says: [
        'The ticket was cancelled after 42 minutes on site. Please look at what was done there, and why no finding was written down.',
      ],
    },
  },
  {
    name: 'says so where one was written down at another visit only',
    job: {
      ...cancelled({ leftAt: '2026-05-04T15:42:00Z' }),
      findings: (jobOf().findings ?? []).map((each) => ({ ...each, visitId: 'visit-2' })),
    },
    is: {
      says: [
        'The ticket was cancelled after 42 minutes on site. Please look at what was done there, and why no finding was written down.',
      ],
    },
  },
  {
    name: 'does not say so where one was',
    job: {
      ...cancelled({ leftAt: '2026-05-04T15:42:00Z' }),
      findings: jobOf().findings ?? [],
    },
    is: { says: [says('42 minutes')] },
  },
  {
    name: 'cannot tell where it is not known when they left',
    job: cancelled({ leftAt: null }),
    is: { missing: ['clock'] },
  },
  {
    name: 'one that is known speaks for itself',
    job: cancelled({ leftAt: null }, { leftAt: '2026-05-04T15:20:00Z' }),
    is: { says: [says('20 minutes')] },
  },
  {
    name: 'cannot tell without visits',
    job: without(cancelled(), 'visits'),
    is: { missing: ['visits'] },
  },
]);
