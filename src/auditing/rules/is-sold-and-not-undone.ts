import type { JobFacts } from '../jobs/job-facts.ts';

/** Whether a document of the job sells the work of a finding, and nobody recorded it as not done. */
export function isSoldAndNotUndone(job: JobFacts, findingId: string): boolean {
  const isSold = job.documents.some(({ lines }) =>
    lines.some(({ findingIds }) => findingIds.includes(findingId)),
  );
  return isSold && !isUndone(job, findingId);
}

/** Whether it is on record that the work of a finding was not done, and nowhere that it was. */
export function isUndone({ work }: JobFacts, findingId: string): boolean {
  const outcomes = (work?.outcomes ?? []).filter((each) => each.findingId === findingId);
  return outcomes.length > 0 && outcomes.every(({ outcome }) => outcome === 'not_done');
}
