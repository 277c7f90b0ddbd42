import {
  certificateRefusal,
  handlesRefrigerant,
  section608TypeSchema,
  taskCodeSchema,
  taskWords,
} from '../../trade/index.ts';
import type { JobFacts, JobFinding, RefrigerantOnJob } from '../jobs/job-facts.ts';
import { cannotJudge, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { isSoldAndNotUndone } from './is-sold-and-not-undone.ts';

/**
 * Refrigerant is handled, gauges included, by somebody certified for it, and what goes in or comes
 * out is weighed. Who of several held the gauges is not known, and a helper may work under a
 * certified person's eye, so it is enough that one who was there is certified. All equipment of ours
 * is split or packaged, which a certificate for small appliances does not cover.
 */
export const refrigerantWithoutRecord: AuditRule<'refrigerant_without_record'> = {
  code: 'refrigerant_without_record',
  statement:
    'Refrigerant is handled, and gauges are attached, by a certified person, and what goes in or comes out is weighed.',
  severity: 'record',
  source: '40 CFR 82.152 and 82.161; of weighing: common practice, no source',
  judge: (job) => {
    const { findings, refrigerant } = job;
    if (findings === undefined || refrigerant === undefined) {
      return cannotJudge(
        ...(findings === undefined ? (['findings'] as const) : []),
        ...(refrigerant === undefined ? (['refrigerant'] as const) : []),
      );
    }
    const tasks = handledIn(job, findings);
    return flaggedBy([
      ...certificateSentence(refrigerant, tasks.length > 0),
      ...(refrigerant.movesRecorded > 0
        ? []
        : tasks.map((task) => `${task}: no weighing is on record.`)),
    ]);
  },
};

/** What was sold and done on the circuit, by name. */
function handledIn(job: JobFacts, findings: readonly JobFinding[]): string[] {
  const done = findings.filter((finding) => isSoldAndNotUndone(job, finding.id));
  const names = done.flatMap(({ taskCode }) => {
    const task = taskCodeSchema.safeParse(taskCode);
    return task.success && handlesRefrigerant(task.data) ? [taskWords[task.data].name] : [];
  });
  return [...new Set(names)];
}

function certificateSentence(
  { gaugesUsed, certificates }: RefrigerantOnJob,
  isHandled: boolean,
): string[] {
  if (!isHandled && !gaugesUsed) return [];
  const held = certificates.flatMap(({ type }) => {
    const known = section608TypeSchema.safeParse(type);
    return known.success ? [known.data] : [];
  });
  if (certificateRefusal(held, { kind: 'split_or_packaged' }) === undefined) return [];
  const what = isHandled ? 'Refrigerant was handled' : 'Gauges were attached';
  return [
    `${what}, and nobody who was there had a Section 608 certificate of type II or universal on record.`,
  ];
}
