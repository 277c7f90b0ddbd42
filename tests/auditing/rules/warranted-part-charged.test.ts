import { describe } from 'vitest';
import type { JobFacts } from '../../../src/auditing/index.ts';
import { billOf } from '../bill-of.ts';
import { capacitor, jobOf, keysOf, withDocument, without, withoutOfDocument } from '../job-of.ts';
import { holdsCases } from './rule-cases.ts';

/*
 * A part that its maker replaces is not charged; its labor is. PRODUCT.md, "Price". The yes is of
 * May 4, 2026; the part 55.20 with 4.55 of tax.
 */
const { part } = keysOf(capacitor());

function warrantedUntil(day: string | null, job = jobOf()): JobFacts {
  const findings = (job.findings ?? []).map((finding) => ({
    ...finding,
    parts: finding.parts.map((each) => ({ ...each, warrantedUntil: day })),
  }));
  return { ...job, findings };
}

const partBack = { back: { [part]: 5_520 }, taxCents: 455, overCents: 5_975 };

const free = capacitor({
  parts: capacitor().parts.map((each) => ({ ...each, underManufacturerWarranty: true })),
});

describe('a part that its maker replaces is not charged', () => {
  holdsCases('warranted_part_charged', [
    { name: 'a part without such a day', job: () => warrantedUntil(null), expected: 'clear' },
    { name: 'long warranted', job: () => warrantedUntil('2030-05-04'), expected: partBack },
    { name: 'on its last day', job: () => warrantedUntil('2026-05-04'), expected: partBack },
    { name: 'the day after', job: () => warrantedUntil('2026-05-03'), expected: 'clear' },
    {
      name: 'by the local day of the yes, where UTC is a day on',
      job: () =>
        withDocument(warrantedUntil('2026-05-04'), {
          agreed: {
            issuedAt: '2026-05-05T01:00:00Z',
            acceptedAt: '2026-05-05T01:30:00Z',
            acceptedOn: '2026-05-04',
          },
        }),
      expected: partBack,
    },
    { name: 'free as it should be', job: () => jobOf({ work: [free] }), expected: 'clear' },
    {
      name: 'another part of the same finding',
      job: () => {
        const job = jobOf();
        const parts = [{ code: 'other', category: 'other', warrantedUntil: '2030-05-04' }];
        return {
          ...job,
          findings: (job.findings ?? []).map((finding) => ({ ...finding, parts })),
        };
      },
      expected: 'clear',
    },
    {
      name: 'with findings unknown it cannot be said of a charged part',
      job: () => without(jobOf(), 'findings'),
      expected: { missing: ['findings'] },
    },
    {
      name: 'without the day of the yes it cannot be said of a part that has a day',
      job: () => withoutOfDocument(warrantedUntil('2030-05-04'), 'agreed'),
      expected: { missing: ['day_of_yes'] },
    },
    {
      name: 'nor is that day needed for a part that has none',
      job: () => withoutOfDocument(jobOf(), 'agreed'),
      expected: 'clear',
    },
    {
      name: 'of an imported bill that charges parts it cannot be said',
      job: () => billOf({ visit_fee: 8_900, part: 15_000 }),
      expected: { missing: ['findings'] },
    },
  ]);
});
