import type { AuditDeps } from '../../src/audits/audit-deps.ts';
import { followJournal } from '../../src/audits/follow-journal.ts';
import { judgeTickets } from '../../src/audits/judge-tickets.ts';
import { nothingKnown } from '../../src/audits/known-terms.ts';
import { sealJournal } from '../../src/journal/seal-journal.ts';
import { timedIds } from '../../src/platform/ids.ts';
import type { Site } from '../harness/job.ts';
import { expectStatus, type TestService } from '../harness/test-service.ts';
import { type BilledJob, billedAgain, billedJob, overcharge } from './billed-job.ts';

/** What judging works with, by the clock of the service. */
export function auditDepsOf({ db, clock }: Pick<TestService, 'db' | 'clock'>): AuditDeps {
  const ids = timedIds(clock);
  const known = nothingKnown();
  return { db, judging: () => ({ now: clock.now(), newId: () => ids.next(), known }) };
}

/** Seals what is waiting, and judges all that the journal tells of. */
export async function judged(deps: AuditDeps): Promise<void> {
  while ((await sealJournal(deps.db.pool)) > 0);
  while ((await followJournal(deps)) > 0);
}

/**
 * Judges one ticket again, as it is now.
 * @returns how many were judged anew
 */
export function judgedAgain(
  { db, judging }: AuditDeps,
  { ticketId }: Pick<BilledJob, 'ticketId'>,
): Promise<number> {
  return db.transact((tx) => judgeTickets({ tx, ...judging() }, [ticketId]), 'ReadCommitted');
}

/** A billed job whose labor is forty dollars too much, with the flag that says so. */
export async function flaggedJob(
  service: TestService,
  { deps = auditDepsOf(service), site }: { deps?: AuditDeps; site?: Site } = {},
): Promise<{ job: BilledJob; flagId: string; tag: string }> {
  const job = await billedJob(service, site);
  await overcharge(service, job, 4_000);
  await judged(deps);
  return { job, ...(await openFlag(service, job, 4_000)) };
}

/** A ticket with two bills whose labor is forty and twenty-five dollars too much, by one flag. */
export async function flaggedTwice(
  service: TestService,
  site?: Site,
): Promise<{ jobs: [BilledJob, BilledJob]; flagId: string; tag: string }> {
  const first = await billedJob(service, site);
  const second = await billedAgain(service, first);
  await overcharge(service, first, 4_000);
  await overcharge(service, second, 2_500);
  await judged(auditDepsOf(service));
  return { jobs: [first, second], ...(await openFlag(service, first, 6_500)) };
}

async function openFlag(service: TestService, { ticketId }: BilledJob, overCents: number) {
  const list = await service.as('owner').get('/v1/audit/flags?limit=100&state=open');
  const { items } = expectStatus(list, 200).body;
  const flag = items.find(
    (each: { ticketId: string; overCents: number }) =>
      each.ticketId === ticketId && each.overCents === overCents,
  );
  const { headers } = expectStatus(
    await service.as('owner').get(`/v1/audit/flags/${flag.id}`),
    200,
  );
  return { flagId: flag.id as string, tag: headers['etag'] ?? '' };
}
