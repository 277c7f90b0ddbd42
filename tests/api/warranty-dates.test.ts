import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addSite, arriveAtJob, type Job } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
let job: Job;
beforeAll(async () => {
  service = await createTestService();
  const outdoor = { partsWarrantyUntil: '2030-01-01' };
  job = await arriveAtJob(service, await addSite(service, { outdoor }));
});
afterAll(() => service.close());

/** A warranty that vanishes from the record makes the customer pay for the part. */
describe('a warranty on record', () => {
  it.each([
    ['erased', null],
    ['shortened by a day', '2029-12-31'],
  ])('is not %s by a technician, who sells the part', async (_, day) => {
    const refused = await change('technician', { partsWarrantyUntil: day });
    expect(expectProblem(refused, 'forbidden').body.errors[0]).toMatchObject({
      pointer: '/partsWarrantyUntil',
      code: 'warranty_shortened',
    });
    expect((await service.as('owner').get(path())).body.partsWarrantyUntil).toBe('2030-01-01');
  });

  it('is prolonged by a technician, and one that nobody knew is recorded', async () => {
    const longer = { partsWarrantyUntil: '2030-01-02', compressorWarrantyUntil: '2033-01-01' };
    expect(expectStatus(await change('technician', longer), 200).body).toMatchObject(longer);
    expectStatus(await change('technician', { installedOn: '2020-01-01' }), 200);
  });

  it.each(['dispatcher', 'owner'] as const)('is corrected by the %s', async (who) => {
    expectStatus(await change(who, { partsWarrantyUntil: null }), 200);
    expectStatus(await change(who, { partsWarrantyUntil: '2030-01-01' }), 200);
  });
});

function path(): string {
  return `/v1/equipment/${job.outdoorId}`;
}

async function change(who: 'technician' | 'dispatcher' | 'owner', body: object) {
  const { etag } = (await service.as('owner').get(path())).headers;
  return service.as(who).patch(path(), body, { ifMatch: String(etag) });
}
