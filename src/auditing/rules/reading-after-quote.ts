import { findFault } from '../../trade/index.ts';
import type { JobDocument, JobFinding } from '../jobs/job-facts.ts';
import { cannotJudge, clear, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { millisecondsBetween, spanText } from './span-text.ts';

/** A verdict that rests on what was measured only after its price was on paper. */
export const readingAfterQuote: AuditRule<'reading_after_quote'> = {
  code: 'reading_after_quote',
  statement: 'What a quote rests on was measured before the quote was issued.',
  severity: 'look',
  source: 'A price traces back to a reading',
  judge: ({ documents, findings }) => {
    const sold = documents.filter(({ kind }) => kind !== 'visit_fee');
    if (sold.length === 0) return clear;
    if (findings === undefined) return cannotJudge('findings');
    if (sold.some(({ agreed }) => agreed === undefined)) return cannotJudge('readings');
    return flaggedBy(sold.flatMap((document) => sentencesOf(document, findings)));
  },
};

function sentencesOf({ lines, title, agreed }: JobDocument, findings: readonly JobFinding[]) {
  const soldIds = new Set(lines.flatMap(({ findingIds }) => findingIds));
  return findings.flatMap(({ id, faultCode, lastReadingAt }) => {
    if (agreed === undefined || lastReadingAt === undefined || !soldIds.has(id)) return [];
    if (millisecondsBetween(agreed.issuedAt, lastReadingAt) <= 0) return [];
    const name = findFault(faultCode)?.name ?? faultCode;
    return [
      `${name}: the last reading that it rests on was taken ${spanText(agreed.issuedAt, lastReadingAt)} after ${title} was issued. Please look at what the price rested on.`,
    ];
  });
}
