import { addCents, dollarsText, type WorkItem } from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { JobDocument, JobVisit, JobWork } from '../jobs/job-facts.ts';
import { cannotJudge, clear, flaggedBy } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { millisecondsBetween, spanText } from './span-text.ts';

/**
 * Work that is on record from before the yes that sells it, or at a visit that was over before it:
 * whoever did it then came back, and that is another visit. Without a yes nothing but the fee is
 * owed; but here a yes to just that sum did come, only late. Whether it was free, or said earlier and
 * written down late, is known to those who were there and not to any record. So this names what rests
 * on it and asks, and takes nothing off by itself.
 */
export const workBeforeYes: AuditRule<'work_before_yes'> = {
  code: 'work_before_yes',
  statement: 'Nothing is done or put in before the yes to the quote that sells it.',
  severity: 'look',
  source: 'Without a yes nothing but the visit fee is owed',
  judge: ({ documents, work, visits = [] }) => {
    const sold = documents.filter(({ kind }) => kind !== 'visit_fee');
    if (sold.length === 0) return clear;
    const isKnown = sold.every(({ agreed, quoteId }) => agreed !== undefined && quoteId !== null);
    if (work === undefined || !isKnown) return cannotJudge('work');
    const sentences = sold.flatMap((document) => sentencesOf(document, work, visits));
    const named = [...work.outcomes, ...work.uses].flatMap(({ visitId }) => visitId ?? []);
    const areKnown = named.every((visitId) => visits.some(({ id }) => id === visitId));
    return sentences.length > 0 || areKnown ? flaggedBy(sentences) : cannotJudge('visits');
  },
};

/** What is on record first of the work of a finding. */
interface FirstRecord {
  readonly findingId: string;
  /** At the latest: when it was recorded, or when its visit was over. */
  readonly doneAt: string;
  readonly what: string;
}

function sentencesOf(document: JobDocument, work: JobWork, visits: readonly JobVisit[]): string[] {
  const { title, price, agreed } = document;
  if (agreed === undefined) return [];
  const early = recordsOf(document, work, visits).filter(
    ({ doneAt }) => millisecondsBetween(doneAt, agreed.acceptedAt) > 0,
  );
  const earlyIds = new Set(early.map(({ findingId }) => findingId));
  const taken = new Set<string>();
  return early.flatMap(({ findingId, doneAt, what }) => {
    const charges = chargesOf(document).filter(
      ({ line: { key, kind, findingIds }, leftCents }) =>
        leftCents > 0 &&
        !taken.has(key) &&
        findingIds.includes(findingId) &&
        (kind !== 'access' || findingIds.every((id) => earlyIds.has(id))),
    );
    if (charges.length === 0) return [];
    for (const { line } of charges) taken.add(line.key);
    const sumCents = addCents(charges.map(({ leftCents }) => leftCents));
    const task = taskOf(price?.inputs.options[price.optionAt]?.work ?? [], findingId) ?? title;
    return [
      `${task}: ${what} ${spanText(doneAt, agreed.acceptedAt)} before the yes to ${title}. Its charges of ${dollarsText(sumCents)} rest on a yes that came after the work. Please look at when the customer really agreed.`,
    ];
  });
}

/** Of each finding the first thing that is on record under the quote. */
function recordsOf(
  { quoteId }: JobDocument,
  { outcomes, uses }: JobWork,
  visits: readonly JobVisit[],
): FirstRecord[] {
  const records = [
    ...outcomes
      .filter(({ outcome }) => outcome === 'done')
      .map((each) => ({ ...each, what: 'recorded as done' })),
    ...uses
      .filter(({ quantity }) => Number(quantity) > 0)
      .map((each) => ({ ...each, what: 'a part recorded as put in' })),
  ].filter((each) => each.quoteId === quoteId);
  const first = new Map<string, FirstRecord>();
  for (const { findingId, recordedAt, visitId, what } of records) {
    const leftAt = visits.find(({ id }) => id === visitId)?.leftAt ?? recordedAt;
    const record =
      millisecondsBetween(leftAt, recordedAt) > 0
        ? { findingId, doneAt: leftAt, what: `${what} at a visit that was over` }
        : { findingId, doneAt: recordedAt, what };
    const known = first.get(findingId);
    const isFirst = known === undefined || millisecondsBetween(record.doneAt, known.doneAt) > 0;
    if (isFirst) first.set(findingId, record);
  }
  return [...first.values()];
}

function taskOf(work: readonly WorkItem[], id: string): string | undefined {
  return work.find(({ findingId, alsoFindingIds = [] }) =>
    [findingId, ...alsoFindingIds].includes(id),
  )?.taskName;
}
