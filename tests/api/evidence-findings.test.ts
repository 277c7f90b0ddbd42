import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { record } from '../harness/findings.ts';
import { addFinding, addSite, arriveAtJob, type Job, outdoorPlate } from '../harness/job.ts';
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

const volts = { quantity: 'voltage', unit: 'V', method: 'multimeter', point: 'line_supply' };

describe('nothing is recorded from before the technician arrived', () => {
  it.each([
    { what: 'readings', field: 'takenAt' },
    { what: 'observations', field: 'observedAt' },
  ])('of $what; a clock two minutes slow is forgiven', async ({ what, field }) => {
    const job = await arriveAtJob(service);
    const visit = await service.as('technician').get(`/v1/visits/${job.visitId}`);
    const arrivedAt = new Date(expectStatus(visit, 200).body.arrivedAt).getTime();
    const item =
      what === 'readings'
        ? { ...volts, value: 240 }
        : { code: 'compressor_running', answer: 'yes' };
    const at = (milliseconds: number) => ({
      [what]: [
        {
          ...item,
          equipmentId: job.outdoorId,
          [field]: new Date(arrivedAt + milliseconds).toISOString(),
        },
      ],
    });
    const path = `/v1/visits/${job.visitId}/${what}`;
    const refused = await service.as('technician').post(path, at(-120_001));
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      { in: 'body', pointer: `/${what}/0/${field}`, code: 'before_arrival' },
    ]);
    expectStatus(await service.as('technician').post(path, at(-120_000)), 201);
  });
});

describe('a fault that cannot be on the machine', () => {
  it('by its kind is refused with the reason, whatever parts are named', async () => {
    const job = await arriveAtJob(service);
    const answer = await tryFinding(job, {
      equipmentId: job.indoorId,
      faultCode: 'run_capacitor_herm',
      taskCode: 'replace_dual_run_capacitor',
      parts: [{ partCode: 'NO-SUCH-PART', quantity: 1 }],
    });
    expect(expectProblem(answer, 'fault-does-not-fit-equipment').body).toMatchObject({
      detail: 'This fault is not found on an air handler.',
      reason: 'this fault is not found on an air handler',
    });
    expect(await findings(job)).toEqual([]);
  });

  it('by its nameplate is refused with the reason', async () => {
    const nameplate = { ...outdoorPlate, fanMotor: 'ecm' };
    const job = await arriveAtJob(service, await addSite(service, { outdoor: { nameplate } }));
    const answer = await tryFinding(job, {
      equipmentId: job.outdoorId,
      faultCode: 'run_capacitor_fan',
      taskCode: 'replace_dual_run_capacitor',
    });
    expect(expectProblem(answer, 'fault-does-not-fit-equipment').body.detail).toBe(
      'An ECM fan motor has no run capacitor.',
    );
  });
});

describe('tracing the cause of a trip', () => {
  const trace = { faultCode: 'tripped_breaker', taskCode: 'trace_breaker_trip' };

  it('is kept without a price until the look that the visit fee includes is recorded', async () => {
    const job = await arriveAtJob(service);
    await see(job, 'breaker_found_tripped');
    const early = await addFinding(service, job, { equipmentId: job.outdoorId, ...trace });
    expect(await findings(job)).toMatchObject([
      {
        standing: 'proven',
        priceable: false,
        causeSearch: 'missing',
        exclusionsMissing: [
          expect.stringMatching(/^Looking for the cause is within the visit fee; record it first/),
        ],
      },
    ]);
    const refused = expectProblem(await quote(job, early), 'evidence-missing');
    expect(refused.body.detail).toMatch(/until this is done: Looking for the cause is within/);

    await see(job, 'breaker_trip_cause_looked_for');
    const late = await addFinding(service, job, { equipmentId: job.outdoorId, ...trace });
    const [, priced] = await findings(job);
    expect(priced).toMatchObject({ id: late, priceable: true, exclusionsMissing: [] });
    expectStatus(await quote(job, late), 201);
  });
});

describe('a reading', () => {
  it('in microfarads as the label writes them is kept in the one unit of the record', async () => {
    const job = await arriveAtJob(service);
    const units = ['uF', '\u00b5F', '\u03bcF', 'mfd', 'MFD'];
    await record(service, job, {
      readings: units.map((unit) => ({
        equipmentId: job.outdoorId,
        point: 'capacitor_herm',
        method: 'capacitance_meter_disconnected',
        quantity: 'capacitance',
        value: 44.6,
        unit,
      })),
    });
    const { body } = await service.as('technician').get(`/v1/visits/${job.visitId}/evidence`);
    expect(body.readings.map(({ unit }: { unit: string }) => unit)).toEqual(units.map(() => 'uF'));
  });
});

function tryFinding({ visitId }: Job, finding: object) {
  return service.as('technician').post(`/v1/visits/${visitId}/findings`, finding);
}

async function findings({ visitId }: Job): Promise<object[]> {
  const listed = await service.as('technician').get(`/v1/visits/${visitId}/findings`);
  return expectStatus(listed, 200).body.items;
}

function see(job: Job, code: string): Promise<void> {
  const observations = [{ equipmentId: job.outdoorId, code, answer: 'yes' }];
  return record(service, job, { observations });
}

function quote({ visitId }: Job, findingId: string) {
  const options = [{ title: 'Trace it', findingIds: [findingId] }];
  return service.as('technician').post('/v1/quotes', { visitId, options });
}
