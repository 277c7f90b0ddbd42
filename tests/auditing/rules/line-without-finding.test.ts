import { describe } from 'vitest';
import type { JobFacts, JobFinding } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import { billOf } from '../bill-of.ts';
import { capacitor, contactor, jobOf, keysOf, withDocument, without } from '../job-of.ts';
import { holdsCases } from './rule-cases.ts';

/*
 * Every charge but the visit fee rests on a finding that is proven or supported, dear parts on one
 * that is proven; else on the owner's recorded reason. PRODUCT.md, "Readings, verdicts, findings".
 * The published invoice: part 55.20, labor 113.25, tax 4.55, and 44.50 of the fee credited.
 */
const part = keysOf(capacitor()).part;
const labor = keysOf(capacitor()).labor;

/** Without part and labor there is nothing to credit the fee against: 113.25 - 44.50 = 68.75. */
const feeAlone = { back: { [part]: 5_520, [labor]: 6_875 }, taxCents: 455, overCents: 12_850 };

function found(changes: Partial<JobFinding>, id = 'finding-capacitor'): JobFacts {
  return refound(jobOf(), changes, id);
}

function refound(job: JobFacts, changes: Partial<JobFinding>, id: string): JobFacts {
  const findings = (job.findings ?? []).map((finding) =>
    finding.id === id ? { ...finding, ...changes } : finding,
  );
  return { ...job, findings };
}

const compressor = capacitor({
  faultCode: 'compressor_locked',
  taskCode: 'replace_compressor',
  taskName: 'Replace the compressor',
});

const both = jobOf({ work: [capacitor({ accessMinutes: 15 }), contactor({ accessMinutes: 15 })] });

describe('every charge but the visit fee rests on a finding that carries it', () => {
  holdsCases('line_without_finding', [
    { name: 'a proven finding', job: () => jobOf(), expected: 'clear' },
    {
      name: 'a supported finding of an everyday part',
      job: () => found({ standing: 'supported' }),
      expected: 'clear',
    },
    {
      name: 'an unproven finding that the owner gave a reason for',
      job: () => found({ standing: 'unproven', priceable: false, isOverridden: true }),
      expected: 'clear',
    },
    {
      name: 'an unproven finding leaves the fee',
      job: () => found({ standing: 'unproven', priceable: false }),
      expected: feeAlone,
    },
    {
      name: 'a finding that the evidence contradicts leaves the fee',
      job: () => found({ standing: 'contradicted', priceable: false }),
      expected: feeAlone,
    },
    {
      name: 'a finding whose exclusions were not done carries no price though it is supported',
      job: () => found({ standing: 'supported', priceable: false }),
      expected: feeAlone,
    },
    {
      name: 'a finding that nobody weighed leaves the fee',
      job: () => ({ ...jobOf(), findings: (jobOf().findings ?? []).map(unweighed) }),
      expected: feeAlone,
    },
    {
      name: 'a charge for a finding that the job does not have',
      job: () => ({ ...jobOf(), findings: [] }),
      expected: feeAlone,
    },
    {
      name: 'a charge for other work than its finding asks for',
      job: () => found({ faultCode: 'tripped_breaker', taskCode: 'reset_breaker' }),
      expected: feeAlone,
    },
    {
      name: 'the same task for another fault than was found',
      job: () => found({ faultCode: 'worn_contactor' }),
      expected: feeAlone,
    },
    {
      name: 'another task for the fault that was found',
      job: () => found({ taskCode: 'replace_compressor_run_capacitor' }),
      expected: feeAlone,
    },
    {
      name: 'a compressor that is only supported, whatever was frozen with it',
      job: () =>
        refound(jobOf({ work: [compressor] }), { standing: 'supported' }, 'finding-capacitor'),
      expected: {
        back: { [keysOf(compressor).part]: 5_520, [keysOf(compressor).labor]: 6_875 },
        taxCents: 455,
        overCents: 12_850,
      },
    },
    {
      name: 'a compressor that is proven',
      job: () => jobOf({ work: [compressor] }),
      expected: 'clear',
    },
    {
      // 65.25, 75.50 less 20 %, and 9.94 - 4.55 of tax; the way in is the capacitor's too.
      name: 'one of two findings: the other keeps the way in',
      job: () => refound(both, { standing: 'unproven', priceable: false }, 'finding-contactor'),
      expected: {
        back: { [keysOf(contactor()).part]: 6_525, [keysOf(contactor()).labor]: 6_040 },
        taxCents: 539,
        overCents: 13_104,
      },
    },
    {
      name: 'what was given back before is not given back again',
      job: () =>
        withDocument(found({ standing: 'unproven', priceable: false }), {
          credited: [{ key: part, amountCents: amountOf(part) }],
          taxLeftCents: amountOf('none'),
        }),
      expected: { back: { [labor]: 6_875 }, overCents: 6_875 },
    },
    {
      name: 'of what was all given back nothing is said',
      job: () =>
        withDocument(found({ standing: 'unproven', priceable: false }), {
          credited: [part, labor].map((key) => ({ key, amountCents: amountOf(key) })),
          taxLeftCents: cents(0),
        }),
      expected: 'clear',
    },
    {
      name: 'a trip that ended with a no charges only its fee',
      job: () => ({ ...jobOf({ work: [] }), findings: [] }),
      expected: 'clear',
    },
    {
      name: 'with findings unknown it cannot be said',
      job: () => without(jobOf(), 'findings'),
      expected: { missing: ['findings'] },
    },
    {
      name: 'an imported bill names no findings',
      job: () => billOf({ visit_fee: 8_900, labor: 15_000 }),
      expected: { missing: ['findings'] },
    },
    {
      name: 'an imported bill of the fee alone needs none',
      job: () => billOf({ visit_fee: 8_900 }),
      expected: 'clear',
    },
  ]);
});

function unweighed(finding: JobFinding): JobFinding {
  return without(finding, 'standing', 'priceable');
}

function amountOf(key: string) {
  const line = jobOf().documents[0]?.lines.find((each) => each.key === key);
  return line?.amountCents ?? cents(0);
}
