import { cents, dollarsText } from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import { dayOfYes } from '../jobs/day-of-yes.ts';
import type { JobDocument, JobFinding } from '../jobs/job-facts.ts';
import { cannotJudge, clear } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { dayText } from './day-text.ts';
import { flaggedFor } from './flagged-for.ts';
import { type Lowered, lowered } from './lowered.ts';

/** A part that its maker replaces on the day of the yes is not charged; its labor is. */
export const warrantedPartCharged: AuditRule<'warranted_part_charged'> = {
  code: 'warranted_part_charged',
  statement: 'A part that its maker replaces is not charged; its labor is.',
  severity: 'owed',
  source: 'Common practice, no source',
  judge: ({ documents, findings }) => {
    const charges = documents.flatMap(chargedParts);
    if (charges.length === 0) return clear;
    if (findings === undefined) return cannotJudge('findings');
    const dated = charges.flatMap((charge) => {
      const until = lastDayOf(charge.line, findings);
      return until === null ? [] : [{ ...charge, until }];
    });
    if (dated.some(({ document }) => dayOfYes(document) === undefined)) {
      return cannotJudge('day_of_yes');
    }
    return flaggedFor(dated.flatMap(warranted));
  },
};

function chargedParts(document: JobDocument) {
  return chargesOf(document)
    .filter(({ line, leftCents }) => line.priceClass === 'part' && leftCents > 0)
    .map((charge) => ({ ...charge, document }));
}
type ChargedPart = ReturnType<typeof chargedParts>[number];

/** Keys of parts end with their code. */
function lastDayOf({ key, findingIds }: ChargedPart['line'], findings: readonly JobFinding[]) {
  const code = key.slice(key.lastIndexOf(':') + 1);
  const days = findings
    .filter(({ id }) => findingIds.includes(id))
    .flatMap(({ parts }) => parts.filter((part) => part.code === code))
    .flatMap(({ warrantedUntil }) => warrantedUntil ?? []);
  return days.toSorted().at(-1) ?? null;
}

function warranted({
  document,
  line,
  leftCents,
  until,
}: ChargedPart & { until: string }): Lowered[] {
  if (until < (dayOfYes(document) ?? '')) return [];
  const sentence = `${line.description} is under its maker’s warranty until ${dayText(until)}: ${document.title} charges ${dollarsText(leftCents)} for it.`;
  return [lowered(document, line.key, cents(0), sentence)];
}
