import { z } from 'zod';
import type { Evidence } from './evidence.ts';
import { admitEvidence } from './facts/admit-evidence.ts';
import { type FaultCode, faultCodeSchema } from './faults/catalog.ts';
import { type Verdict, weigh } from './weigh.ts';

export const evidenceRulesetVersionSchema = z.enum(['evidence-1']);
export type EvidenceRulesetVersion = z.infer<typeof evidenceRulesetVersionSchema>;

export type EvidenceRuleset = {
  /** The verdict on one fault. */
  weigh: (faultCode: FaultCode, evidence: Evidence) => Verdict;
  /** The verdict on every fault, in the order of the catalog. */
  assess: (evidence: Evidence) => Verdict[];
};

/**
 * Every released way of weighing, by version. A finding keeps its version, so an old one must
 * decide the same for ever; its golden cases see to that.
 */
export const evidenceRulesets: Record<EvidenceRulesetVersion, EvidenceRuleset> = {
  'evidence-1': {
    weigh: (faultCode, evidence) => weigh(faultCode, admitEvidence(evidence)),
    assess: (evidence) => {
      const facts = admitEvidence(evidence);
      return faultCodeSchema.options.map((code) => weigh(code, facts));
    },
  },
};

/** The version that new findings are weighed under. */
export const currentEvidenceRuleset: EvidenceRulesetVersion = 'evidence-1';
