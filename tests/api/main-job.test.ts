import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import {
  addFinding,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  yesTo,
} from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

describe('from the call to the written yes', () => {
  it('prices a proven capacitor with a worn contactor, issues, and records the yes', async () => {
    const job = await arriveAtJob(service);
    const capacitor = await findCapacitor(service, job);
    const technician = service.as('technician');
    const pole = { equipmentId: job.outdoorId, quantity: 'voltage', unit: 'V' };
    expectStatus(
      await technician.post(`/v1/visits/${job.visitId}/readings`, {
        readings: [
          { ...pole, point: 'contactor_pole_1', value: 4.2, method: 'multimeter' },
          { ...pole, point: 'contactor_coil', value: 25.1, method: 'multimeter' },
        ],
      }),
      201,
    );
    expectStatus(
      await technician.post(`/v1/visits/${job.visitId}/observations`, {
        observations: [{ equipmentId: job.outdoorId, code: 'contactor_pulled_in', answer: 'yes' }],
      }),
      201,
    );
    const contactor = await addFinding(service, job, {
      equipmentId: job.outdoorId,
      faultCode: 'worn_contactor',
      taskCode: 'replace_contactor',
      parts: [{ partCode: 'CON-2P-30-24', quantity: 1 }],
    });
    const drafted = await draftQuote(service, job, [capacitor, contactor]);
    expect(drafted.body.state).toBe('draft');
    for (const option of drafted.body.options) assertAddsUp(option);
    const issued = await issueQuote(service, drafted);
    expect(issued.body.contentHash).toMatch(/^[0-9a-f]{64}$/);
    const paper = await technician.get(`/v1/quotes/${issued.body.id}/paper`);
    expectStatus(paper, 200);
    const accepted = await technician.post(`/v1/quotes/${issued.body.id}/accept`, yesTo(issued), {
      ifMatch: issued.tag,
    });
    expect(expectStatus(accepted, 200).body.state).toBe('accepted');
  });
});
