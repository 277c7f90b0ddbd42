import { cents, dollarsText } from '../../pricing/index.ts';
import { remedyFor } from '../../trade/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { JobDocument, JobFinding } from '../jobs/job-facts.ts';
import { cannotJudge, clear } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { flaggedFor } from './flagged-for.ts';
import { type Lowered, lowered, ofFindings } from './lowered.ts';

/**
 * Every charge but the visit fee rests on a finding that carries its price: proven or supported as
 * the catalog asks for that work, with its exclusions done, or with the owner's recorded reason.
 * What several findings need, the way in say, is carried by one of them.
 */
export const lineWithoutFinding: AuditRule<'line_without_finding'> = {
  code: 'line_without_finding',
  statement: 'Every charge but the visit fee rests on a finding that carries its price.',
  severity: 'owed',
  source: 'Common practice, no source: what was not found is not charged',
  judge: ({ documents, findings }) => {
    const charges = documents.flatMap(chargesOfWork);
    if (charges.length === 0) return clear;
    if (findings === undefined) return cannotJudge('findings');
    return flaggedFor(charges.flatMap((charge) => uncarried(charge, findings)));
  },
};

function chargesOfWork(document: JobDocument) {
  return chargesOf(document)
    .filter(({ line, leftCents }) => line.priceClass !== 'visit_fee' && leftCents > 0)
    .map((charge) => ({ ...charge, document }));
}

function uncarried(
  { document, line, leftCents }: ReturnType<typeof chargesOfWork>[number],
  findings: readonly JobFinding[],
): Lowered[] {
  const own = findings.filter(({ id }) => line.findingIds.includes(id));
  const whyNot = own.map((finding) => whyNotCarried(finding, document));
  if (whyNot.includes(undefined)) return [];
  const why = whyNot[0] ?? 'rests on no finding of this job';
  const sentence = `${line.description}, ${dollarsText(leftCents)} on ${document.title}, ${why}.`;
  return [lowered(document, line.key, cents(0), sentence, ofFindings(line.findingIds))];
}

/** Undefined where the finding carries what was sold for it. */
function whyNotCarried(finding: JobFinding, document: JobDocument): string | undefined {
  if (isSoldAsOtherWork(finding, document)) return 'is other work than its finding asks for';
  if (finding.isOverridden) return undefined;
  const { standing, priceable } = finding;
  if (standing === undefined && priceable === undefined) return 'rests on a finding nobody weighed';
  if (standing !== undefined && !isEnough(finding, standing)) {
    return `rests on a finding that is ${standing.replaceAll('_', ' ')}`;
  }
  return priceable === false
    ? 'rests on a finding that carries no price until what it asks for is done'
    : undefined;
}

function isEnough({ faultCode, taskCode }: JobFinding, standing: string): boolean {
  if (standing === 'proven') return true;
  return standing === 'supported' && remedyFor(faultCode, taskCode)?.needs !== 'proven';
}

/** What was priced for a finding is what the finding says. */
function isSoldAsOtherWork({ id, faultCode, taskCode }: JobFinding, { price }: JobDocument) {
  const work = price?.inputs.options[price.optionAt]?.work ?? [];
  const own = work.find(({ findingId }) => findingId === id);
  return own !== undefined && (own.faultCode !== faultCode || own.taskCode !== taskCode);
}
