import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findWornContactor, record } from '../harness/findings.ts';
import {
  addFinding,
  addSite,
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  type Job,
  outdoorPlate,
  proveCapacitor,
} from '../harness/job.ts';
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

const volts = { quantity: 'voltage', unit: 'V', method: 'multimeter' };
const herm = { point: 'capacitor_herm', method: 'clamp_meter' };
const worn = { faultCode: 'worn_contactor', taskCode: 'replace_contactor' };
const contactor = { ...worn, parts: [{ partCode: 'CON-2P-30-24', quantity: 1 }] };
const capacitor = {
  faultCode: 'run_capacitor_herm',
  taskCode: 'replace_dual_run_capacitor',
  parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
};

describe('what a verdict rests on', () => {
  it('that both motors start by hand speaks against a capacitor only until it is measured', async () => {
    const job = await arriveAtJob(service);
    await record(service, job, {
      observations: [
        { equipmentId: job.outdoorId, code: 'contactor_by_hand_both_start', answer: 'yes' },
      ],
    });
    expect(await standing(job, 'run_capacitor_herm')).toBe('unproven');
    await proveCapacitor(service, job);
    expect(await standing(job, 'run_capacitor_herm')).toBe('proven');
  });
});

describe('a reading that cannot be', () => {
  const possible = { ...herm, quantity: 'voltage', unit: 'V', value: 352 };
  const uf = { point: 'capacitor_herm', method: 'capacitance_meter_disconnected' };
  const slips = [
    {
      name: '4500 uF is far outside, and was probably 45.00',
      reading: { ...uf, quantity: 'capacitance', unit: 'uF', value: 4_500 },
      field: 'value',
      code: 'out_of_range',
      extra: { range: { low: 0, high: 150, unit: 'uF' }, likelyValue: 45 },
    },
    {
      name: 'minus 4.1 A was probably 4.1',
      reading: { ...herm, quantity: 'current', unit: 'A', value: -4.1 },
      field: 'value',
      code: 'out_of_range',
      extra: { range: { low: 0, high: 40, unit: 'A' }, likelyValue: 4.1 },
    },
    {
      name: 'volts are not given in amperes',
      reading: { ...herm, quantity: 'voltage', unit: 'A', value: 352 },
      field: 'unit',
      code: 'wrong_unit',
      extra: {},
    },
    {
      name: 'a clamp meter measures no capacitance',
      reading: { ...herm, quantity: 'capacitance', unit: 'uF', value: 38 },
      field: 'method',
      code: 'wrong_method',
      extra: {},
    },
    {
      name: 'a capacitor has no temperature to be read',
      reading: {
        ...herm,
        method: 'thermometer',
        quantity: 'temperature',
        unit: '[degF]',
        value: 90,
      },
      field: 'quantity',
      code: 'wrong_quantity',
      extra: {},
    },
  ];

  it.each(slips)(
    '$name; the good one beside it is not kept either',
    async ({ reading, field, code, extra }) => {
      const job = await arriveAtJob(service);
      const equipmentId = job.outdoorId;
      const answer = await post(job, 'readings', {
        readings: [
          { ...possible, equipmentId },
          { ...reading, equipmentId },
        ],
      });
      expect(expectProblem(answer, 'reading-out-of-range').body).toMatchObject({
        errors: [{ in: 'body', pointer: `/readings/1/${field}`, code }],
        ...extra,
      });
      expect(await evidence(job)).toEqual({ readings: [], observations: [] });
    },
  );

  it('says the range and the likely slip in words that can be read aloud', async () => {
    const job = await arriveAtJob(service);
    const answer = await post(job, 'readings', {
      readings: [{ ...slips[0]?.reading, equipmentId: job.outdoorId }],
    });
    expect(answer.body.detail).toBe(
      '4500 uF is outside 0 to 150 uF (compressor section of the run capacitor). Was it 45 uF, with the decimal point lost?',
    );
  });

  it.each([
    ['1e999', 'an infinite value'],
    ['"352"', 'a value in quotes'],
    ['null', 'no value'],
  ])('%s: %s is no number', async (value) => {
    const job = await arriveAtJob(service);
    const sent = `{"readings":[{"equipmentId":"${job.outdoorId}","quantity":"voltage","point":"capacitor_herm","unit":"V","method":"clamp_meter","value":${value}}]}`;
    const answer = await service.app.inject({
      method: 'POST',
      url: `/v1/visits/${job.visitId}/readings`,
      headers: {
        authorization: `Bearer ${service.staff.technician.token}`,
        'idempotency-key': `no-number-${value}`,
        'content-type': 'application/json',
      },
      payload: sent,
    });
    expect(answer.statusCode).toBe(400);
    expect(await evidence(job)).toEqual({ readings: [], observations: [] });
  });
});

describe('who may record what, where and when', () => {
  it('what somebody else claims to have measured is kept as reported and proves nothing', async () => {
    const job = await arriveAtJob(service);
    const claimed = { ...herm, equipmentId: job.outdoorId, source: 'reported' };
    await record(service, job, {
      readings: [
        { ...claimed, quantity: 'current', unit: 'A', value: 4.1 },
        { ...claimed, quantity: 'voltage', unit: 'V', value: 352 },
      ],
    });
    expect((await evidence(job)).readings).toHaveLength(2);
    expect(await standing(job, 'run_capacitor_herm')).toBe('unproven');
    const id = await addFinding(service, job, { equipmentId: job.outdoorId, ...capacitor });
    expect(await finding(job, id)).toMatchObject({ standing: 'unproven', priceable: false });
  });

  it('a reading after the work proves no fault', async () => {
    const job = await arriveAtJob(service);
    const left = { ...herm, equipmentId: job.outdoorId, phase: 'left' };
    await record(service, job, {
      readings: [
        { ...left, quantity: 'current', unit: 'A', value: 4.1 },
        { ...left, quantity: 'voltage', unit: 'V', value: 352 },
      ],
    });
    expect(await standing(job, 'run_capacitor_herm')).toBe('unproven');
  });

  const acts = [
    {
      what: 'readings',
      body: (equipmentId: string) => ({
        readings: [{ ...herm, equipmentId, quantity: 'voltage', unit: 'V', value: 352 }],
      }),
      pointer: '/readings/0/equipmentId',
    },
    {
      what: 'observations',
      body: (equipmentId: string) => ({
        observations: [{ equipmentId, code: 'outdoor_fan_running', answer: 'yes' }],
      }),
      pointer: '/observations/0/equipmentId',
    },
    {
      what: 'findings',
      body: (equipmentId: string) => ({ ...capacitor, equipmentId }),
      pointer: '/equipmentId',
    },
  ];

  it.each(acts)(
    'no $what before the technician is on site, nor after the visit',
    async ({ what, body }) => {
      const job = await bookJob(service);
      const technician = service.as('technician');
      let tag = job.visitTag;
      const step = async (verb: string, sent: object = {}) => {
        const moved = await technician.post(`/v1/visits/${job.visitId}/${verb}`, sent, {
          ifMatch: tag,
        });
        tag = expectStatus(moved, 200).headers['etag'] ?? '';
      };
      const attempt = async (currentState: string, allowedActions: string[]) => {
        const answer = await post(job, what, body(job.outdoorId));
        const { body: refusal } = expectProblem(answer, 'not-allowed-now');
        expect(refusal).toMatchObject({ currentState });
        expect(refusal.allowedActions).toEqual(expect.arrayContaining(allowedActions));
      };
      await attempt('booked', ['start_travel']);
      await step('start-travel');
      await attempt('on_the_way', ['arrive']);
      await step('arrive');
      await step('finish', { ticketIs: 'work_complete' });
      await attempt('finished', []);
      expect(await evidence(job)).toEqual({ readings: [], observations: [] });
    },
  );

  it.each(acts)('no $what about equipment of another site', async ({ what, body, pointer }) => {
    const job = await arriveAtJob(service);
    const elsewhere = await addSite(service);
    const answer = await post(job, what, body(elsewhere.outdoorId));
    expect(expectProblem(answer, 'unknown-reference').body.errors).toMatchObject([{ pointer }]);
  });

  it.each(acts)(
    'no $what by another technician, for whom the visit does not exist',
    async ({ what, body }) => {
      const job = await arriveAtJob(service);
      const answer = await service
        .as('second_technician')
        .post(`/v1/visits/${job.visitId}/${what}`, body(job.outdoorId));
      expectProblem(answer, 'not-found');
    },
  );

  it.each(acts)('no $what from a desk', async ({ what, body }) => {
    const job = await arriveAtJob(service);
    const answer = await service
      .as('dispatcher')
      .post(`/v1/visits/${job.visitId}/${what}`, body(job.outdoorId));
    expectProblem(answer, 'forbidden');
  });

  it('nothing of another site is assessed at this visit', async () => {
    const job = await arriveAtJob(service);
    const elsewhere = await addSite(service);
    const answer = await service
      .as('technician')
      .get(`/v1/visits/${job.visitId}/assessment?equipmentId=${elsewhere.outdoorId}`);
    expectProblem(answer, 'not-found');
  });

  it.each([
    { what: 'readings', field: 'takenAt', pointer: '/readings/0/takenAt' },
    { what: 'observations', field: 'observedAt', pointer: '/observations/0/observedAt' },
  ])(
    'no $what from the future; a clock two minutes fast is forgiven',
    async ({ what, field, pointer }) => {
      const job = await arriveAtJob(service);
      const now = service.clock.now().getTime();
      const item =
        what === 'readings'
          ? { ...herm, quantity: 'voltage', unit: 'V', value: 352 }
          : { code: 'outdoor_fan_running', answer: 'yes' };
      const at = (milliseconds: number) => ({
        [what]: [
          {
            ...item,
            equipmentId: job.outdoorId,
            [field]: new Date(now + milliseconds).toISOString(),
          },
        ],
      });
      const refusal = expectProblem(await post(job, what, at(120_001)), 'validation-failed');
      expect(refusal.body.errors).toMatchObject([{ pointer, code: 'in_the_future' }]);
      expectStatus(await post(job, what, at(120_000)), 201);
    },
  );
});

describe('a finding', () => {
  it('keeps the verdict it was given when the nameplate is corrected afterwards', async () => {
    const plate = { ...outdoorPlate, capacitorHermUf: 35 };
    const site = await addSite(service, { outdoor: { nameplate: plate } });
    const job = await arriveAtJob(service, site);
    await proveCapacitor(service, job);
    const capacitor35 = {
      ...capacitor,
      equipmentId: job.outdoorId,
      parts: [{ partCode: 'CAP-35-5-440', quantity: 1 }],
    };
    // 2652.58 x 4.1 A / 352 V is 30.9 uF: out of tolerance for 35 uF, and not surely 'failed'.
    const id = await addFinding(service, job, capacitor35);
    const before = await finding(job, id);
    expect(before.standing).toBe('supported');
    const machine = await service.as('technician').get(`/v1/equipment/${job.outdoorId}`);
    expectStatus(
      await service
        .as('technician')
        .patch(
          `/v1/equipment/${job.outdoorId}`,
          { nameplate: outdoorPlate },
          { ifMatch: machine.headers['etag'] ?? '' },
        ),
      200,
    );
    expect(await finding(job, id)).toEqual(before);
    expect(await standing(job, 'run_capacitor_herm')).toBe('proven');
  });

  it('keeps the verdict it was given when more is measured; a new finding has the new one', async () => {
    const job = await arriveAtJob(service);
    const early = await addFinding(service, job, { equipmentId: job.outdoorId, ...capacitor });
    await proveCapacitor(service, job);
    const late = await addFinding(service, job, { equipmentId: job.outdoorId, ...capacitor });
    expect(await finding(job, early)).toMatchObject({ standing: 'unproven', priceable: false });
    expect(await finding(job, late)).toMatchObject({ standing: 'proven', priceable: true });
  });

  it('that nothing proves is kept, and carries no price until it is measured', async () => {
    const job = await arriveAtJob(service);
    const unproven = await addFinding(service, job, { equipmentId: job.outdoorId, ...capacitor });
    const refused = await quote(job, [unproven]);
    expect(expectProblem(refused, 'evidence-missing').body).toMatchObject({
      findingId: unproven,
      standing: 'unproven',
      errors: [{ pointer: '/options/0/findingIds/0', code: 'evidence_missing' }],
    });
    const measured = await findCapacitor(service, job);
    expectStatus(await quote(job, [measured]), 201);
    expectProblem(await quote(job, [unproven]), 'evidence-missing');
  });

  it('that nothing proves is priced for a reason of the owner, which stays on record', async () => {
    const job = await arriveAtJob(service);
    const unproven = await addFinding(service, job, { equipmentId: job.outdoorId, ...capacitor });
    const reason = 'Seen burnt on the photo sent ahead.';
    expectStatus(
      await service.as('owner').post(`/v1/findings/${unproven}/override`, { reason }),
      201,
    );
    expect(await finding(job, unproven)).toMatchObject({
      standing: 'unproven',
      priceable: false,
      override: { reason, grantedAt: service.clock.now().toISOString() },
    });
    expectStatus(await quote(job, [unproven]), 201);
  });

  it('of a contactor is not blamed before the voltage at its coil was measured', async () => {
    const job = await arriveAtJob(service);
    const at = { ...volts, equipmentId: job.outdoorId };
    await record(service, job, {
      readings: [{ ...at, point: 'contactor_pole_1', value: 4.2 }],
      observations: [{ equipmentId: job.outdoorId, code: 'contactor_pulled_in', answer: 'yes' }],
    });
    const early = await addFinding(service, job, { equipmentId: job.outdoorId, ...contactor });
    expect(await finding(job, early)).toMatchObject({ standing: 'proven', priceable: false });
    const refused = expectProblem(await quote(job, [early]), 'evidence-missing');
    expect(refused.body.exclusionsMissing).toEqual([
      'The voltage at its coil was measured: a low one makes a sound contactor chatter and burn.',
    ]);
    const late = await findWornContactor(service, job);
    await draftQuote(service, job, [late]);
  });

  it('contradicted by a sound reading carries no price', async () => {
    const job = await arriveAtJob(service);
    await record(service, job, {
      readings: [
        {
          equipmentId: job.outdoorId,
          point: 'capacitor_herm',
          method: 'capacitance_meter_disconnected',
          quantity: 'capacitance',
          unit: 'uF',
          value: 44.6,
        },
      ],
    });
    const id = await addFinding(service, job, { equipmentId: job.outdoorId, ...capacitor });
    expect(await finding(job, id)).toMatchObject({ standing: 'contradicted', priceable: false });
    const refused = expectProblem(await quote(job, [id]), 'evidence-missing');
    expect(refused.body.detail).toMatch(/^The evidence speaks against it: \S/);
  });
});

// biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
type Json = any;

function post(job: Job, what: string, body: object) {
  return service.as('technician').post(`/v1/visits/${job.visitId}/${what}`, body);
}

function quote(job: Job, findingIds: string[]) {
  return service.as('technician').post('/v1/quotes', {
    visitId: job.visitId,
    options: [{ title: 'Repair', findingIds }],
  });
}

async function evidence(job: Job): Promise<Json> {
  return (await service.as('technician').get(`/v1/visits/${job.visitId}/evidence`)).body;
}

async function finding(job: Job, id: string): Promise<Json> {
  const listed = await service.as('technician').get(`/v1/visits/${job.visitId}/findings`);
  return listed.body.items.find((each: { id: string }) => each.id === id);
}

async function standing(job: Job, faultCode: string): Promise<string> {
  const path = `/v1/visits/${job.visitId}/assessment?equipmentId=${job.outdoorId}&all=true`;
  const { systems } = expectStatus(await service.as('technician').get(path), 200).body;
  return systems[0].machines[0].verdicts.find((each: Json) => each.faultCode === faultCode)
    .standing;
}
