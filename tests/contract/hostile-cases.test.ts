import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { priceBook } from '../../seed/price-book.ts';
import { addSite, arriveAtJob, type Job, outdoorPlate } from '../harness/job.ts';
import { createTestService, expectProblem, type TestService } from '../harness/test-service.ts';

let service: TestService;
let job: Job;
beforeAll(async () => {
  service = await createTestService();
  job = await arriveAtJob(service, await addSite(service));
});
afterAll(() => service.close());

// Each of these once went past the schemas and failed in the database or in the answer.
describe('what the database cannot hold is a wrong field, not our mistake', () => {
  it.each([
    ['/v1/parts?category=%00', '/category'],
    ['/v1/customers?search=a%00b', '/search'],
    ['/v1/journal?subjectId=%00', '/subjectId'],
    ['/v1/visits?startsFrom=0000-01-01T00:00:00Z', '/startsFrom'],
    ['/v1/visit-fee?windowStart=0000-01-01T00:00:00Z', '/windowStart'],
  ])('in the query %s', async (path, pointer) => {
    const refused = expectProblem(await service.as('owner').get(path), 'validation-failed');
    expect(refused.body.errors).toEqual([expect.objectContaining({ in: 'query', pointer })]);
  });

  const rates = {
    ...priceBook.rates,
    annualOverheadCents: 2_000_000_000,
    annualAvailableHours: 1,
    billableFraction: '0.000001',
    technicianCount: 1,
  };
  const plate = (nameplate: object) => ({ kind: 'condensing_unit', nameplate });

  it.each([
    ['a year the calendar lacks', '/v1/tax-rules', { ...taxRule, effectiveFrom: '0000-01-01' }],
    ['a tax of the whole price', '/v1/tax-rules', { ...taxRule, rate: '1' }],
    ['a name that is no text', '/v1/tax-rules', { ...taxRule, name: '\u0000' }],
    ['a labor rate beyond reason', '/v1/price-books', { ...priceBook, rates }],
    [
      'a refrigerant that is no text',
      '/v1/systems/:systemId/equipment',
      plate({ ...outdoorPlate, refrigerant: 'R-22\u0000' }),
    ],
    ['four billion stages', '/v1/systems/:systemId/equipment', plate({ stages: 2 ** 32 })],
    [
      'a part code that is no text',
      '/v1/visits/:visitId/findings',
      {
        equipmentId: '019f61c9-2500-7000-b04b-a31a8629189c',
        faultCode: 'run_capacitor_herm',
        taskCode: 'replace_dual_run_capacitor',
        parts: [{ partCode: '\u0000', quantity: 1 }],
      },
    ],
  ])('in a body: %s', async (_, path, body) => {
    const address = path.replace(/:(\w+)/, (__, name: string) =>
      name === 'systemId' ? job.systemId : job.visitId,
    );
    expectProblem(await service.as('owner').post(address, body), 'validation-failed');
  });
});
