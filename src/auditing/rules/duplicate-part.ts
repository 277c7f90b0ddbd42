import { dollarsText } from '../../pricing/index.ts';
import type { PartCategory } from '../../trade/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import { dayOfYes } from '../jobs/day-of-yes.ts';
import type { EarlierRepair, JobDocument, JobFacts, JobFinding } from '../jobs/job-facts.ts';
import { cannotJudge, clear, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { cameBack, wasMendedBefore } from './came-back.ts';
import { codeText } from './code-text.ts';
import { dayText } from './day-text.ts';

/**
 * A part that went into the same system less than a year ago, charged again. It may have failed, so
 * this only asks; what came back within its labor warranty is the rule of recalls'.
 */
export const duplicatePart: AuditRule<'duplicate_part'> = {
  code: 'duplicate_part',
  statement:
    'A part is not charged again on the same system within a year without somebody having looked why.',
  severity: 'look',
  source: 'Common practice, no source',
  judge: ({ documents, findings, visits = [], earlierRepairs }) => {
    const missing = [
      ...(findings === undefined ? (['findings'] as const) : []),
      ...(earlierRepairs === undefined ? (['earlier_repairs'] as const) : []),
    ];
    if (findings === undefined || earlierRepairs === undefined) return cannotJudge(...missing);
    if (earlierRepairs.length === 0) return clear;
    return flaggedBy(
      documents.flatMap((document) => sentencesOf(document, { findings, visits, earlierRepairs })),
    );
  },
};

/** What is used up, or blows so that nothing else does, is replaced as often as it has to be. */
const usedUp: readonly PartCategory[] = [
  'filter',
  'thermostat_batteries',
  'control_fuse',
  'disconnect_fuse',
  'refrigerant',
  'filter_drier',
];

/** A system has several of these, one for each motor or place: for another fault it is another one. */
const severalOfThem: readonly PartCategory[] = ['run_capacitor', 'sensor'];

type Known = Required<Pick<JobFacts, 'findings' | 'visits' | 'earlierRepairs'>>;

function sentencesOf(document: JobDocument, { findings, visits, earlierRepairs }: Known): string[] {
  return chargesOf(document).flatMap(({ line, leftCents }) => {
    if (line.kind !== 'part' || leftCents <= 0) return [];
    const own = findings.filter(({ id }) => line.findingIds.includes(id));
    const category = categoryOf(line.key, own);
    if (category === undefined || usedUp.some((each) => each === category)) return [];
    const before = earlierRepairs.find(
      (repair) =>
        repair.partCategories.includes(category) &&
        !line.findingIds.some((id) => id === repair.findingId) &&
        own.some((finding) => isDuplicate(repair, { finding, category, document, visits })),
    );
    if (before === undefined) return [];
    const { ticketNumber, doneOn } = before;
    return [
      `${line.description}, ${dollarsText(leftCents)}: ticket ${ticketNumber} put a ${codeText(category)} into the same system on ${dayText(doneOn)}. Please look at what became of that one.`,
    ];
  });
}

/** By the part's code, which is the last of the key. */
function categoryOf(key: string, findings: readonly JobFinding[]): string | undefined {
  const code = key.slice(key.lastIndexOf(':') + 1);
  return findings.flatMap(({ parts }) => parts).find((part) => part.code === code)?.category;
}

interface ChargedAgain {
  readonly finding: JobFinding;
  readonly category: string;
  readonly document: JobDocument;
  readonly visits: Known['visits'];
}

function isDuplicate(
  repair: EarlierRepair,
  { finding, category, document, visits }: ChargedAgain,
): boolean {
  const day = dayOfYes(document) ?? finding.foundOn;
  const isSameFault = repair.faultCode === finding.faultCode;
  return (
    repair.systemId === finding.systemId &&
    (isSameFault || !severalOfThem.some((each) => each === category)) &&
    wasMendedBefore(repair, finding, day, visits) &&
    repair.doneOn >= yearBefore(day) &&
    !cameBack(repair, finding, day, visits)
  );
}

/** '2026-05-04' -> '2025-05-04'; days stand as text, so Feb 29 needs no care. */
function yearBefore(day: string): string {
  return `${String(Number(day.slice(0, 4)) - 1).padStart(4, '0')}${day.slice(4)}`;
}
