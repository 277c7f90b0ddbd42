import type { EarlierRepair, JobFacts } from '../../../src/auditing/index.ts';
import { capacitor, jobOf, without } from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

/** The job of May 4, 2026, with its part in a category, after an earlier repair of the same system. */
function after(earlier: Partial<EarlierRepair>, job = jobOf(), category = 'dual_run_capacitor') {
  const categorized = (job.findings ?? []).map((finding) => ({
    ...finding,
    parts: finding.parts.map((part) => ({ ...part, category })),
  }));
  const repair: EarlierRepair = {
    ticketNumber: 812,
    systemId: 'system-1',
    faultCode: 'run_capacitor_fan',
    doneOn: '2026-01-12',
    laborWarrantyUntil: null,
    partCategories: ['dual_run_capacitor'],
    ...earlier,
  };
  return { ...job, findings: categorized, earlierRepairs: [repair] } satisfies JobFacts;
}

const warranted = jobOf({
  work: [
    capacitor({
      parts: [{ ...part(), underManufacturerWarranty: true }],
    }),
  ],
});

function part() {
  const [first] = capacitor().parts;
  if (first === undefined) throw new Error('the capacitor is a part');
  return first;
}

// Within a year, and what is used up by use: common practice, no source.
holdRuleTo('duplicate_part', [
  { name: 'holds where nothing was mended before', job: jobOf(), is: 'clear' },
  {
    name: 'a finding is never held against itself',
    job: after({ findingId: 'finding-capacitor' }),
    is: 'clear',
  },
  {
    name: 'asks for a look where the same kind of part went into the same system in January',
    job: after({}),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V, $55.20: ticket 812 put a dual run capacitor into the same system on Jan 12, 2026. Please look at what became of that one.',
      ],
    },
  },
  {
    name: 'a year ago to the day is within a year',
    job: after({ doneOn: '2025-05-04' }),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V, $55.20: ticket 812 put a dual run capacitor into the same system on May 4, 2025. Please look at what became of that one.',
      ],
    },
  },
  {
    name: 'a part that mends two findings is never held against itself by the other of them',
    job: after(
      { findingId: 'finding-fan' },
      jobOf({ work: [capacitor({ alsoFindingIds: ['finding-fan'] })] }),
    ),
    is: 'clear',
  },
  {
    name: 'what went in after this was found did not go in before it',
    job: after({ doneOn: '2026-05-04', doneAt: '2026-05-04T15:30:00Z' }),
    is: 'clear',
  },
  {
    name: 'what went in a second before it was found did',
    job: after({ doneOn: '2026-05-04', doneAt: '2026-05-04T15:29:59Z' }),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V, $55.20: ticket 812 put a dual run capacitor into the same system on May 4, 2026. Please look at what became of that one.',
      ],
    },
  },
  {
    name: 'a single run capacitor of another motor is another one',
    job: after({ partCategories: ['run_capacitor'] }, jobOf(), 'run_capacitor'),
    is: 'clear',
  },
  {
    name: 'a single run capacitor of the same motor is not',
    job: after(
      { partCategories: ['run_capacitor'], faultCode: 'run_capacitor_herm' },
      jobOf(),
      'run_capacitor',
    ),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V, $55.20: ticket 812 put a run capacitor into the same system on Jan 12, 2026. Please look at what became of that one.',
      ],
    },
  },
  { name: 'a year and a day is not', job: after({ doneOn: '2025-05-03' }), is: 'clear' },
  {
    name: 'holds for another system of the home',
    job: after({ systemId: 'system-2' }),
    is: 'clear',
  },
  {
    name: 'holds for another kind of part',
    job: after({ partCategories: ['contactor'] }),
    is: 'clear',
  },
  {
    name: 'leaves the same fault within its labor warranty to the rule of recalls',
    job: after({ faultCode: 'run_capacitor_herm', laborWarrantyUntil: '2026-05-04' }),
    is: 'clear',
  },
  {
    name: 'the same fault after its labor warranty is looked at',
    job: after({ faultCode: 'run_capacitor_herm', laborWarrantyUntil: '2026-05-03' }),
    is: {
      says: [
        'Run capacitor 45/5 uF 440 V, $55.20: ticket 812 put a dual run capacitor into the same system on Jan 12, 2026. Please look at what became of that one.',
      ],
    },
  },
  {
    name: 'holds where the maker replaces the part, for nothing is charged',
    job: after({}, warranted),
    is: 'clear',
  },
  {
    name: 'a filter is replaced again and again',
    job: after({ partCategories: ['filter'] }, jobOf(), 'filter'),
    is: 'clear',
  },
  {
    name: 'cannot tell without what was mended before',
    job: without(after({}), 'earlierRepairs'),
    is: { missing: ['earlier_repairs'] },
  },
  {
    name: 'cannot tell of a bill',
    job: billOf({ lump: 70_000 }),
    is: { missing: ['findings', 'earlier_repairs'] },
  },
]);
