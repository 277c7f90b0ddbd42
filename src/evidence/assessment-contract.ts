import { z } from 'zod';
import {
  adviceSchema,
  comparisonSchema,
  evidenceRulesetVersionSchema,
  systemEvidenceSchema,
  verdictSchema,
  writtenUnitSchema,
} from '../trade/index.ts';

const { machines, readings, observations } = systemEvidenceSchema.shape;

const readingToAssessSchema = readings.element.extend({
  unit: writtenUnitSchema.meta({ description: 'Of the gauge, whatever it is.' }),
});

/** Far more than a visit records about one system, and few enough to be weighed at once. */
export const evidenceToAssessSchema = systemEvidenceSchema.extend({
  machines: machines.max(8).refine(haveOwnIds, 'has the same id twice'),
  readings: z.array(readingToAssessSchema).max(300).refine(haveOwnIds, 'has the same id twice'),
  observations: observations.max(300).refine(haveOwnIds, 'has the same id twice'),
});

/** A verdict names what it rests on by its id. */
function haveOwnIds(things: readonly { id: string }[]): boolean {
  return new Set(things.map(({ id }) => id)).size === things.length;
}

export const assessmentQuerySchema = z.strictObject({
  systemId: z.uuid().optional().meta({ description: 'All systems of the site when absent.' }),
  equipmentId: z.uuid().optional().meta({ description: 'All machines when absent.' }),
  all: z.enum(['true', 'false']).default('false').meta({
    description: 'Also the verdicts on faults of which nothing is recorded or that do not fit.',
  }),
});

const machineAssessmentSchema = z.strictObject({
  equipmentId: z.string(),
  verdicts: z.array(verdictSchema.extend({ faultName: z.string() })),
  verdictsLeftOut: z.int().min(0).meta({
    description: 'Faults of which nothing is recorded or that cannot be on this machine.',
  }),
});

const priorsSchema = adviceSchema.shape.priors.extend({
  ticketCount: z.int().min(0).meta({
    description: 'Proven causes of own tickets; they count from 500 on.',
  }),
  until: z.iso.date().meta({
    description: 'Tickets closed before this day are counted: the first of the month.',
  }),
});

export const evidenceAssessmentSchema = z.strictObject({
  rulesetVersion: evidenceRulesetVersionSchema,
  machines: z.array(machineAssessmentSchema),
  advice: adviceSchema.extend({ priors: priorsSchema }).meta({
    description: 'Who is suspected, and what to check next. It ranks, and proves nothing.',
  }),
});

export const visitAssessmentSchema = z.strictObject({
  systems: z.array(evidenceAssessmentSchema.extend({ systemId: z.uuid(), systemName: z.string() })),
});

export const lastGoodSchema = z.strictObject({
  equipmentId: z.uuid(),
  comparisons: z.array(comparisonSchema),
});
