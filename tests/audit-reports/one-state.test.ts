import { afterAll, beforeAll, expect, it } from 'vitest';
import { lookAtPeriod, makeReport } from '../../src/audit-reports/make-report.ts';
import { sealJournal } from '../../src/journal/seal-journal.ts';
import { billedJob, overcharge } from '../audits/billed-job.ts';
import { auditDepsOf, judged } from '../audits/judged.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

type Prisma = TestService['db']['prisma'];

const asked = { from: '2026-01-01', to: '2027-12-31' };

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await overcharge(service, await billedJob(service), 4_000);
  await judged(auditDepsOf(service));
});
afterAll(() => service.close());

// Its jobs are read first, and the end of the journal that vouches for them last: were each of another
// state, the journal would vouch for what is not in the report.
it('a report tells of one state, whatever is changed and sealed between two of its statements', async () => {
  const before = (await makeReport(contextOf(service.db.prisma), asked)).report;
  let changes = 0;
  const prisma = interrupted(service.db.prisma, async () => {
    changes += 1;
    await overcharge(service, await billedJob(service), 2_500);
    await judged(auditDepsOf(service));
    await sealJournal(service.db.pool);
  });
  expect((await makeReport(contextOf(prisma), asked)).report).toEqual(before);
  expect(changes).toBe(1);
  const after = (await makeReport(contextOf(service.db.prisma), asked)).report;
  expect(after.jobs).toBe(before.jobs + 1);
  expect(after.openCents).toBe(before.openCents + 2_500);
  expect(after.journal.position).toBeGreaterThan(before.journal.position);
});

it('nothing can be written while a report is read', async () => {
  const prisma = interrupted(service.db.prisma, (tx) =>
    tx.customer.updateMany({ data: { name: 'Somebody else' } }),
  );
  await expect(makeReport(contextOf(prisma), asked)).rejects.toThrow(/read-only/);
  // And what a report is refused for is said as ever.
  const none = { from: '2026-07-02', to: '2026-07-01' };
  await expect(lookAtPeriod(contextOf(service.db.prisma), none)).rejects.toMatchObject({
    slug: 'validation-failed',
  });
  expectStatus(
    await service.as('owner').get('/v1/audit/report?from=2026-07-01&to=2026-07-31'),
    200,
  );
});

function contextOf(prisma: Prisma) {
  return { prisma, now: service.clock.now() };
}

/** The same client, at which something happens once the jobs are read and before the book is. */
function interrupted(prisma: Prisma, happens: (tx: TransactionOf) => Promise<unknown>): Prisma {
  return replacing(
    prisma,
    '$transaction',
    (work: (tx: TransactionOf) => unknown, options: object) =>
      prisma.$transaction(
        async (tx) =>
          work(
            replacing(
              tx,
              'priceBookTask',
              replacing(tx.priceBookTask, 'findMany', async (query: object) => {
                await happens(tx);
                return tx.priceBookTask.findMany(query);
              }),
            ),
          ),
        options,
      ),
  );
}

type TransactionOf = Parameters<Parameters<TestService['db']['transact']>[0]>[0];

/** A thing with one of its members replaced. */
function replacing<T extends object>(thing: T, member: keyof T, by: unknown): T {
  return new Proxy(thing, {
    get: (target, key) => (key === member ? by : Reflect.get(target, key)),
  });
}
