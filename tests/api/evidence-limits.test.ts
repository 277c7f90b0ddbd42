import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { record } from '../harness/findings.ts';
import { arriveAtJob, type Job } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const read = (job: Job) => ({
  equipmentId: job.outdoorId,
  quantity: 'voltage',
  point: 'line_supply',
  method: 'multimeter',
  value: 241,
  unit: 'V',
});
const seen = (job: Job) => ({
  equipmentId: job.outdoorId,
  code: 'outdoor_fan_running',
  answer: 'yes',
});

describe('a visit holds as much evidence as can be weighed while somebody waits', () => {
  it.each([
    { what: 'readings', table: 'reading', make: read },
    { what: 'observations', table: 'observation', make: seen },
  ] as const)('1,000 $what and not one more, all of them or none', async (each) => {
    const { what, table, make } = each;
    const job = await arriveAtJob(service);
    const post = (count: number) =>
      service.as('technician').post(`/v1/visits/${job.visitId}/${what}`, {
        [what]: Array.from({ length: count }, () => make(job)),
      });
    await record(service, job, { [what]: [make(job)] });
    await plantCopies(table, job, 997);
    const { body } = expectProblem(await post(3), 'not-allowed-now');
    expect(body).toMatchObject({
      detail: `A visit holds up to 1000 ${what}; this one has 998, and 3 more were sent.`,
      currentState: 'on_site',
      allowedActions: [],
    });
    expectStatus(await post(2), 201);
    expectProblem(await post(1), 'not-allowed-now');
    const kept = await service.owner.query(
      `SELECT count(*)::int AS count FROM ${table} WHERE visit_id = $1`,
      [job.visitId],
    );
    expect(kept.rows).toEqual([{ count: 1_000 }]);
  });
});

/** Rows like the one a visit has, past the API. */
async function plantCopies(table: 'reading' | 'observation', job: Job, count: number) {
  await service.owner.query(
    `INSERT INTO ${table} SELECT (jsonb_populate_record(t, jsonb_build_object('id', gen_random_uuid()))).*
     FROM ${table} t, generate_series(1, $2) WHERE visit_id = $1`,
    [job.visitId, count],
  );
}
