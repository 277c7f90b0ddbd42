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
    expect(expectProblem(answer, 'does-not-fit').body).toMatchObject({
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
    expect(expectProblem(answer, 'does-not-fit').body.detail).toBe(
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
  const leadsOff = {
    point: 'capacitor_herm',
    method: 'capacitance_meter_disconnected',
    quantity: 'capacitance',
  };
  const suctionLine = {
    point: 'suction_line',
    method: 'pipe_clamp_thermometer',
    quantity: 'temperature',
  };

  it('in microfarads as the label writes them is kept in the one unit of the record', async () => {
    const job = await arriveAtJob(service);
    const units = ['uF', '\u00b5F', '\u03bcF', 'mfd', 'MFD'];
    await record(service, job, {
      readings: units.map((unit) => ({
        ...leadsOff,
        equipmentId: job.outdoorId,
        value: 44.6,
        unit,
      })),
    });
    expect(await readings(job)).toMatchObject(units.map(() => ({ value: 44.6, unit: 'uF' })));
  });

  it('is kept in our unit and as the gauge showed it, and both are on record', async () => {
    const job = await arriveAtJob(service);
    const typed = [
      { ...leadsOff, value: 44_600, unit: 'nF' },
      { ...suctionLine, value: 21, unit: '\u00b0C' },
      { ...suctionLine, value: 52.3, unit: 'F' },
    ];
    await record(service, job, {
      readings: typed.map((each) => ({ ...each, equipmentId: job.outdoorId })),
    });
    const kept = [
      { value: 44.6, unit: 'uF', shownValue: 44_600, shownUnit: 'nF' },
      { value: 69.8, unit: '[degF]', shownValue: 21, shownUnit: 'Cel' },
      { value: 52.3, unit: '[degF]', shownValue: 52.3, shownUnit: '[degF]' },
    ];
    const items = await readings(job);
    expect(items).toMatchObject(kept);
    for (const [index, { id }] of items.entries()) {
      const journal = await service.as('owner').get(`/v1/journal?subjectId=${id}`);
      expect(journal.body.items).toMatchObject([{ changes: { after: kept[index] } }]);
    }
  });

  it('from before the gauge was kept is shown with our unit alone', async () => {
    const job = await arriveAtJob(service);
    await record(service, job, {
      readings: [{ ...leadsOff, equipmentId: job.outdoorId, value: 44.6, unit: 'uF' }],
    });
    await service.owner.query('ALTER TABLE reading DISABLE TRIGGER reading_insert_only');
    await service.owner.query(
      'UPDATE reading SET shown_value = NULL, shown_unit = NULL WHERE visit_id = $1',
      [job.visitId],
    );
    await service.owner.query('ALTER TABLE reading ENABLE TRIGGER reading_insert_only');
    expect(await readings(job)).toMatchObject([
      { value: 44.6, unit: 'uF', shownValue: null, shownUnit: null },
    ]);
  });

  it('in a unit that does not measure it is refused with those that do', async () => {
    const job = await arriveAtJob(service);
    const refused = await service.as('technician').post(`/v1/visits/${job.visitId}/readings`, {
      readings: [{ ...leadsOff, equipmentId: job.outdoorId, value: 45, unit: 'V' }],
    });
    expect(expectProblem(refused, 'reading-out-of-range').body).toMatchObject({
      detail: 'V does not measure capacitance; capacitance is given in uF, nF or pF.',
      units: ['uF', 'nF', 'pF'],
      errors: [{ pointer: '/readings/0/unit', code: 'wrong_unit' }],
    });
  });

  it('that cannot be is refused in the words of the gauge, with what was probably meant', async () => {
    const job = await arriveAtJob(service);
    const refused = await service.as('technician').post(`/v1/visits/${job.visitId}/readings`, {
      readings: [{ ...suctionLine, equipmentId: job.outdoorId, value: 210, unit: '\u00b0C' }],
    });
    expect(expectProblem(refused, 'reading-out-of-range').body).toMatchObject({
      detail:
        '210 C is outside -51.11 to 148.8 C, which is -60 to 300 F (suction line at the outdoor ' +
        'unit). Was it 21 C, with the decimal point lost?',
      range: { low: -60, high: 300, unit: '[degF]' },
      likelyValue: 21,
      likelyUnit: 'Cel',
      errors: [{ pointer: '/readings/0/value', code: 'out_of_range' }],
    });
    expect(await readings(job)).toEqual([]);
  });
});

function tryFinding({ visitId }: Job, finding: object) {
  return service.as('technician').post(`/v1/visits/${visitId}/findings`, finding);
}

async function findings({ visitId }: Job): Promise<object[]> {
  const listed = await service.as('technician').get(`/v1/visits/${visitId}/findings`);
  return expectStatus(listed, 200).body.items;
}

// biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
async function readings({ visitId }: Job): Promise<any[]> {
  const { body } = await service.as('technician').get(`/v1/visits/${visitId}/evidence`);
  return body.readings;
}

function see(job: Job, code: string): Promise<void> {
  const observations = [{ equipmentId: job.outdoorId, code, answer: 'yes' }];
  return record(service, job, { observations });
}

function quote({ visitId }: Job, findingId: string) {
  const options = [{ title: 'Trace it', findingIds: [findingId] }];
  return service.as('technician').post('/v1/quotes', { visitId, options });
}
