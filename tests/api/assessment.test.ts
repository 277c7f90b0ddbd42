import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { faultCatalog } from '../../src/trade/index.ts';
import { record } from '../harness/findings.ts';
import { addFinding, addSite, arriveAtJob, type Job, proveCapacitor } from '../harness/job.ts';
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

// biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
type Json = any;

async function assess(job: Job, query = ''): Promise<Json> {
  const path = `/v1/visits/${job.visitId}/assessment${query}`;
  return expectStatus(await service.as('technician').get(path), 200).body;
}

const openFan = {
  observations: [
    { code: 'outdoor_fan_running', answer: 'yes' },
    { code: 'compressor_running', answer: 'no' },
    { code: 'compressor_hums', answer: 'yes' },
  ],
};

function seenOn(equipmentId: string) {
  return { observations: openFan.observations.map((each) => ({ ...each, equipmentId })) };
}

describe('the verdicts and next checks of a visit', () => {
  it('are given for every system of the site, machine by machine', async () => {
    const site = await addSite(service);
    const dispatcher = service.as('dispatcher');
    const upstairs = await dispatcher.post(`/v1/sites/${site.siteId}/systems`, {
      name: 'Upstairs',
    });
    const second = await dispatcher.post(`/v1/systems/${upstairs.body.id}/equipment`, {
      kind: 'package_unit',
      nameplate: {},
    });
    await dispatcher.post(`/v1/sites/${site.siteId}/systems`, { name: 'Attic, not built yet' });
    const job = await arriveAtJob(service, site);
    const { systems } = await assess(job);
    const machinesOf = ({ machines }: Json) => machines.map((each: Json) => each.equipmentId);
    expect(systems.map((each: Json) => [each.systemName, machinesOf(each)])).toEqual([
      ['Main floor', [job.outdoorId, job.indoorId]],
      ['Upstairs', [second.body.id]],
    ]);
    const only = await assess(job, `?systemId=${upstairs.body.id}`);
    expect(only.systems).toEqual([systems[1]]);
    const one = await assess(job, `?equipmentId=${job.indoorId}`);
    expect(one.systems.map(machinesOf)).toEqual([[job.indoorId]]);
    expect(one.systems[0].advice).toEqual(systems[0].advice);
  });

  it('hold only what anything was recorded about, and say how many were left out', async () => {
    const job = await arriveAtJob(service);
    const before = await assess(job, `?equipmentId=${job.outdoorId}`);
    expect(before.systems[0].machines[0]).toMatchObject({
      verdicts: [],
      verdictsLeftOut: faultCatalog.length,
    });
    await proveCapacitor(service, job);
    const { systems } = await assess(job, `?equipmentId=${job.outdoorId}`);
    const [{ verdicts, verdictsLeftOut }] = systems[0].machines;
    expect(verdicts).toContainEqual(
      expect.objectContaining({ faultCode: 'run_capacitor_herm', standing: 'proven' }),
    );
    expect(verdicts.length).toBeLessThan(faultCatalog.length / 2);
    expect(verdicts.length + verdictsLeftOut).toBe(faultCatalog.length);
    const all = await assess(job, `?equipmentId=${job.outdoorId}&all=true`);
    expect(all.systems[0].machines[0].verdicts.map(({ faultCode }: Json) => faultCode)).toEqual(
      faultCatalog.map(({ code }) => code),
    );
    expect(all.systems[0].machines[0].verdictsLeftOut).toBe(0);
  });

  it('are those a finding freezes: what is proven here is proven there', async () => {
    const job = await arriveAtJob(service);
    const at = { equipmentId: job.indoorId, quantity: 'voltage', unit: 'V', method: 'multimeter' };
    await record(service, job, {
      readings: [
        { ...at, point: 'float_switch_in', value: 26.4 },
        { ...at, point: 'float_switch_out', value: 0 },
      ],
      // Of the house, so that it counts inside though it was noted outside.
      observations: [
        { code: 'thermostat_calling_cooling', answer: 'yes', equipmentId: job.outdoorId },
      ],
    });
    const id = await addFinding(service, job, {
      equipmentId: job.indoorId,
      faultCode: 'open_float_switch',
      taskCode: 'reset_float_switch',
    });
    const { systems } = await assess(job, `?equipmentId=${job.indoorId}`);
    const verdict = systems[0].machines[0].verdicts.find(
      ({ faultCode }: Json) => faultCode === 'open_float_switch',
    );
    const { items } = (await service.as('technician').get(`/v1/visits/${job.visitId}/findings`))
      .body;
    const finding = items.find((each: Json) => each.id === id);
    expect(finding.standing).toBe('proven');
    expect({ standing: finding.standing, criteria: finding.criteria }).toEqual({
      standing: verdict.standing,
      criteria: verdict.criteria,
    });
  });

  it('name who is suspected first and the check that tells most, with its reason', async () => {
    const job = await arriveAtJob(service);
    await record(service, job, seenOn(job.outdoorId));
    const { suspects, nextChecks, priors } = (await assess(job)).systems[0].advice;
    const named = suspects.slice(0, 3).map(({ faultCode }: Json) => faultCode);
    expect(named).toContain('run_capacitor_herm');
    expect(nextChecks[0]).toMatchObject({
      ask: expect.stringMatching(/\w/),
      reason: expect.stringMatching(/\w/),
      equipmentId: expect.stringMatching(new RegExp(`${job.outdoorId}|${job.indoorId}`)),
    });
    expect(nextChecks[0].minutes).toBeGreaterThan(0);
    expect(priors).toEqual({
      basis: 'common_practice',
      ticketCount: 0,
      until: expect.stringMatching(/^\d{4}-\d\d-01$/),
    });
  });

  it('are not there for a machine or a system of another site', async () => {
    const [job, other] = [await arriveAtJob(service), await addSite(service)];
    for (const query of [`equipmentId=${other.outdoorId}`, `systemId=${other.systemId}`]) {
      const path = `/v1/visits/${job.visitId}/assessment?${query}`;
      expectProblem(await service.as('technician').get(path), 'not-found');
    }
  });
});

const told = {
  machines: [
    { id: 'condenser', kind: 'condensing_unit', nameplate: { capacitorHermUf: 45, phase: 1 } },
    { id: 'inside', kind: 'air_handler', nameplate: {} },
  ],
  readings: [
    {
      id: 'reading-1',
      equipmentId: 'condenser',
      quantity: 'capacitance',
      point: 'capacitor_herm',
      value: 31.2,
      unit: 'uF',
      method: 'capacitance_meter_disconnected',
      source: 'measured',
      phase: 'found',
      takenAt: '2026-07-14T15:00:00Z',
    },
  ],
  observations: [
    {
      id: 'seen-1',
      equipmentId: 'condenser',
      code: 'compressor_hums',
      answer: 'yes',
      source: 'observed',
      phase: 'found',
      at: '2026-07-14T15:00:00Z',
    },
  ],
};

describe('the same for evidence that is told and not kept', () => {
  const post = (body: object, key: string | null = null) =>
    service.as('dispatcher').post('/v1/assessments', body, { key });

  it('gives verdicts and next checks, and leaves not a row behind', async () => {
    const before = await rowCounts();
    expect(Object.keys(before).length).toBeGreaterThan(25);
    const answer = expectStatus(await post(told), 200).body;
    expect(await rowCounts()).toEqual(before);
    expect(answer.machines[0].verdicts).toContainEqual(
      expect.objectContaining({ faultCode: 'run_capacitor_herm', standing: 'proven' }),
    );
    expect(answer.advice.suspects[0]).toMatchObject({
      faultCode: 'run_capacitor_herm',
      equipmentId: 'condenser',
    });
  });

  it('asked again it is worked out again: no key is needed, and none is remembered', async () => {
    const key = 'the-same-key-for-both';
    const [first, again] = [await post(told, key), await post({ ...told, readings: [] }, key)];
    expectStatus(first, 200);
    expectStatus(again, 200);
    expect(again.headers['idempotency-replayed']).toBeUndefined();
    expect(again.body.machines[0].verdicts).not.toEqual(first.body.machines[0].verdicts);
    expect((await post(told)).text).toBe(first.text);
  });

  it('takes the unit of the gauge: 31,200 nF are 31.2 uF', async () => {
    const [reading] = told.readings;
    const inNanofarads = { ...told, readings: [{ ...reading, value: 31_200, unit: 'nF' }] };
    expect((await post(inNanofarads)).body).toEqual((await post(told)).body);
  });

  const [reading] = told.readings;
  const [seen] = told.observations;
  const [machine] = told.machines;
  const refused: [
    what: string,
    body: object,
    slug: 'reading-out-of-range' | 'unknown-reference' | 'validation-failed',
    pointer: string,
  ][] = [
    [
      'a reading that cannot be',
      { ...told, readings: [reading, { ...reading, id: 'reading-2', value: 4_500 }] },
      'reading-out-of-range',
      '/readings/1/value',
    ],
    [
      'a nameplate that cannot be',
      { ...told, machines: [{ ...machine, nameplate: { capacitorHermUf: 45_000 } }] },
      'validation-failed',
      '/machines/0/nameplate/capacitorHermUf',
    ],
    [
      'a reading on a machine that was not told',
      { ...told, readings: [{ ...reading, equipmentId: 'garage' }] },
      'unknown-reference',
      '/readings/0/equipmentId',
    ],
    [
      'something seen on a machine that was not told',
      { ...told, observations: [{ ...seen, equipmentId: 'garage' }] },
      'unknown-reference',
      '/observations/0/equipmentId',
    ],
    [
      'the same id twice',
      { ...told, machines: [machine, machine] },
      'validation-failed',
      '/machines',
    ],
    [
      'more readings than a visit has',
      { ...told, readings: Array.from({ length: 301 }, (_, id) => ({ ...reading, id: `${id}` })) },
      'validation-failed',
      '/readings',
    ],
    ['no machine', { ...told, machines: [] }, 'validation-failed', '/machines'],
    [
      'a ninth machine',
      {
        ...told,
        machines: Array.from({ length: 9 }, (_, index) => ({ ...machine, id: `machine-${index}` })),
      },
      'validation-failed',
      '/machines',
    ],
  ];
  it.each(refused)('%s is refused with its place', async (_, body, slug, pointer) => {
    const answer = expectProblem(await post(body), slug);
    expect(answer.body.errors).toContainEqual(expect.objectContaining({ pointer }));
  });

  it('the most that may be told fits into a request', async () => {
    const most = {
      machines: Array.from({ length: 8 }, (_, index) => ({ ...machine, id: `machine-${index}` })),
      readings: Array.from({ length: 300 }, (_, index) => ({
        ...reading,
        id: `00000000-0000-4000-8000-${String(index).padStart(12, '0')}`,
        equipmentId: `machine-${index % 8}`,
      })),
      observations: Array.from({ length: 300 }, (_, index) => ({
        ...seen,
        id: `00000000-0000-4000-9000-${String(index).padStart(12, '0')}`,
        equipmentId: `machine-${index % 8}`,
        photoSha256: 'a'.repeat(64),
      })),
    };
    expectStatus(await post(most), 200);
  });
});

describe('last good', () => {
  const herm = (equipmentId: string, value: number, phase: 'found' | 'left' = 'found') => ({
    readings: [
      {
        equipmentId,
        quantity: 'capacitance',
        point: 'capacitor_herm',
        method: 'capacitance_meter_disconnected',
        unit: 'uF',
        value,
        phase,
      },
    ],
  });
  const ask = async (job: Job, equipmentId = job.outdoorId) => {
    const path = `/v1/visits/${job.visitId}/last-good?equipmentId=${equipmentId}`;
    return service.as('technician').get(path);
  };

  it('is the same machine at its last visit, as the work left it, with the day and what changed', async () => {
    const site = await addSite(service);
    const spring = await arriveAtJob(service, site);
    await record(service, spring, herm(site.outdoorId, 36.4));
    await record(service, spring, herm(site.outdoorId, 45.1, 'left'));
    expect((await ask(spring)).body.comparisons).toEqual([]);
    await finish(spring);
    service.clock.advance(3_600_000);
    const today = await arriveAtJob(service, site);
    await record(service, today, herm(site.outdoorId, 37.2));
    const { body } = expectStatus(await ask(today), 200);
    expect(body).toMatchObject({
      equipmentId: site.outdoorId,
      comparisons: [
        {
          figure: 'capacitance',
          point: 'capacitor_herm',
          today: { value: 37.2 },
          before: { value: 45.1, phase: 'left', visitId: spring.visitId },
          changed: 'less',
        },
      ],
    });
    expect(body.comparisons[0].statement).toMatch(
      /^Capacitance, compressor section of the run capacitor: 37\.20 uF today, 45\.10 uF on \d{4}-\d\d-\d\d, after the work: 7\.90 uF less, more than the methods' \d\.\d\d uF\.$/,
    );
    expect(JSON.stringify(body)).not.toContain(service.staff.technician.id);
    expect((await ask(today, site.indoorId)).body.comparisons).toEqual([]);
  });

  it('knows nothing of machines of another site', async () => {
    const [job, other] = [await arriveAtJob(service), await addSite(service)];
    expectProblem(await ask(job, other.outdoorId), 'not-found');
  });

  async function finish(job: Job): Promise<void> {
    const path = `/v1/visits/${job.visitId}/finish`;
    const body = { ticketIs: 'work_complete' };
    expectStatus(await service.as('technician').post(path, body, { ifMatch: job.visitTag }), 200);
  }
});

async function rowCounts(): Promise<Record<string, number>> {
  const tables = await service.owner.query<{ name: string }>(
    `SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' ORDER BY 1`,
  );
  const counts: Record<string, number> = {};
  for (const { name } of tables.rows) {
    const counted = await service.owner.query(`SELECT count(*)::int AS rows FROM "${name}"`);
    counts[name] = counted.rows[0].rows;
  }
  return counts;
}
