import type { JobFacts, RefrigerantOnJob } from '../../../src/auditing/index.ts';
import { capacitor, jobOf, without } from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

const recharge = jobOf({
  work: [
    capacitor({
      faultCode: 'undercharge',
      taskCode: 'add_refrigerant',
      taskName: 'Add refrigerant by weight and readings',
      remedyClass: 'adjust',
      parts: [],
    }),
  ],
});

function having(job: JobFacts, facts: Partial<RefrigerantOnJob>): JobFacts {
  const refrigerant: RefrigerantOnJob = {
    gaugesUsed: false,
    movesRecorded: 1,
    certificates: [{ technicianId: 'technician-1', type: 'type_2' }],
    ...facts,
  };
  return { ...job, refrigerant };
}

const held = (...types: (string | null)[]) =>
  types.map((type, at) => ({ technicianId: `technician-${at}`, type }));

const nobody =
  'Refrigerant was handled, and nobody who was there had a Section 608 certificate of type II or universal on record.';
const gauges =
  'Gauges were attached, and nobody who was there had a Section 608 certificate of type II or universal on record.';
const unweighed = 'Add refrigerant by weight and readings: no weighing is on record.';

// Certificates: 40 CFR 82.161 and 82.152 (gauges included). Weighing: common practice, no source.
holdRuleTo('refrigerant_without_record', [
  {
    name: 'holds where no refrigerant was handled',
    job: having(jobOf(), { certificates: [] }),
    is: 'clear',
  },
  {
    name: 'holds for a weighed charge by a certified person',
    job: having(recharge, {}),
    is: 'clear',
  },
  {
    name: 'holds for a universal certificate',
    job: having(recharge, { certificates: held('universal') }),
    is: 'clear',
  },
  {
    name: 'holds where a helper worked beside a certified person',
    job: having(recharge, { certificates: held(null, 'type_2') }),
    is: 'clear',
  },
  {
    name: 'says where nobody had a certificate',
    job: having(recharge, { certificates: held(null) }),
    is: { says: [nobody] },
  },
  {
    name: 'says where the certificate is for small appliances only',
    job: having(recharge, { certificates: held('type_1') }),
    is: { says: [nobody] },
  },
  {
    name: 'says so for gauges alone',
    job: having(jobOf(), { gaugesUsed: true, certificates: held('type_3') }),
    is: { says: [gauges] },
  },
  {
    name: 'gauges by a certified person need no weighing',
    job: having(jobOf(), { gaugesUsed: true, movesRecorded: 0 }),
    is: 'clear',
  },
  {
    name: 'says where refrigerant was sold and never weighed',
    job: having(recharge, { movesRecorded: 0 }),
    is: { says: [unweighed] },
  },
  {
    name: 'says both',
    job: having(recharge, { movesRecorded: 0, certificates: held(null), gaugesUsed: true }),
    is: { says: [nobody, unweighed] },
  },
  {
    name: 'work that was not done handled nothing',
    job: having(
      {
        ...recharge,
        work: {
          uses: [],
          outcomes: [
            {
              quoteId: 'quote-1',
              findingId: 'finding-capacitor',
              outcome: 'not_done',
              recordedAt: '2026-05-04T17:00:00Z',
            },
          ],
        },
      },
      { movesRecorded: 0, certificates: held(null) },
    ),
    is: 'clear',
  },
  {
    name: 'work that nobody bought handled nothing',
    job: having({ ...recharge, documents: [] }, { movesRecorded: 0, certificates: held(null) }),
    is: 'clear',
  },
  {
    name: 'cannot tell without certificates and weighings',
    job: without(recharge, 'refrigerant'),
    is: { missing: ['refrigerant'] },
  },
  {
    name: 'cannot tell without the findings',
    job: without(having(recharge, {}), 'findings'),
    is: { missing: ['findings'] },
  },
  {
    name: 'cannot tell of a bill',
    job: billOf({ lump: 70_000 }),
    is: { missing: ['findings', 'refrigerant'] },
  },
]);
