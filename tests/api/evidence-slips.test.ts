import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { record } from '../harness/findings.ts';
import { addSite, arriveAtJob, type Job } from '../harness/job.ts';
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

function post(job: Job, what: 'readings' | 'observations', items: object[]) {
  return service.as('technician').post(`/v1/visits/${job.visitId}/${what}`, { [what]: items });
}

const minutes = (count: number) => count * 60_000;

function ago(milliseconds: number): string {
  return new Date(service.clock.now().getTime() - milliseconds).toISOString();
}

/** A job whose technician has been there for an hour. */
async function anHourOnSite(): Promise<Job> {
  const job = await arriveAtJob(service);
  service.clock.advance(minutes(60));
  return job;
}

const supply = { point: 'control_supply', quantity: 'voltage', method: 'multimeter' };
const suction = { point: 'suction_port', quantity: 'gauge_pressure', method: 'digital_gauge' };
const air = { point: 'return_air', method: 'psychrometer', unit: 'F' };
const dry = (value: number) => ({ ...air, quantity: 'temperature', value });
const wet = (value: number) => ({ ...air, quantity: 'wet_bulb_temperature', value });

describe('a slip that could hurt somebody or prove a wrong thing', () => {
  it('line voltage on a control wire is never explained away', async () => {
    const job = await arriveAtJob(service);
    const typed = { ...supply, equipmentId: job.indoorId, value: 240, unit: 'V' };
    const { body } = expectProblem(await post(job, 'readings', [typed]), 'reading-out-of-range');
    expect(body.detail).toMatch(/If it really is 240 V: stop, line voltage is on the control/);
    expect(body).not.toHaveProperty('likelyValue');
  });

  it('a vacuum without its minus is not kept as a pressure', async () => {
    const job = await arriveAtJob(service);
    const typed = { ...suction, equipmentId: job.outdoorId, value: 20, unit: 'inHg' };
    const { body } = expectProblem(await post(job, 'readings', [typed]), 'reading-out-of-range');
    expect(body).toMatchObject({
      detail: 'A vacuum in inHg is typed with a minus: -20 inHg.',
      likelyValue: -20,
      likelyUnit: "[in_i'Hg]",
    });
  });

  it('a unit nobody knows is refused with those of its quantity alone', async () => {
    const job = await arriveAtJob(service);
    const typed = { ...suction, equipmentId: job.outdoorId, value: 118, unit: 'psj' };
    const { body } = expectProblem(await post(job, 'readings', [typed]), 'reading-out-of-range');
    expect(body).toMatchObject({
      detail:
        '"psj" is no unit known here; gauge pressure is given in psi, kPa, MPa, bar or in. Hg. ' +
        'Did you mean psi?',
      units: ['[psi]', 'kPa', 'MPa', 'bar', "[in_i'Hg]"],
      errors: [{ pointer: '/readings/0/unit', code: 'wrong_unit' }],
    });
    expectStatus(await post(job, 'readings', [{ ...typed, unit: 'Psi G' }]), 201);
  });
});

describe('a wet bulb above the dry bulb of the same air', () => {
  it.each([
    ['wet first', [wet(78), dry(64)]],
    ['dry first', [dry(64), wet(78)]],
  ])('is refused in one go, %s, and nothing of it is kept', async (_, bulbs) => {
    const job = await arriveAtJob(service);
    const sent = bulbs.map((each) => ({ ...each, equipmentId: job.indoorId }));
    const { body } = expectProblem(await post(job, 'readings', sent), 'reading-out-of-range');
    expect(body.detail).toBe(
      'A wet bulb of 78 F above a dry bulb of 64 F cannot be (return air). Were the two swapped?',
    );
    expect(body.errors).toMatchObject([{ code: 'wet_above_dry' }, { code: 'wet_above_dry' }]);
    expect((await kept(job)).readings).toEqual([]);
  });

  it('is refused against what was read before, from whichever machine of the system', async () => {
    const job = await arriveAtJob(service);
    await record(service, job, { readings: [{ ...dry(64), equipmentId: job.indoorId }] });
    const late = [{ ...wet(25), unit: 'C', equipmentId: job.outdoorId }];
    const { body } = expectProblem(await post(job, 'readings', late), 'reading-out-of-range');
    expect(body.detail).toContain('A wet bulb of 25 C above a dry bulb of 64 F');
    expect(body.errors).toMatchObject([{ pointer: '/readings/0/value' }]);
    // The dry bulb was the slip: measured again, it lets the wet bulb in.
    await record(service, job, { readings: [{ ...dry(82), equipmentId: job.indoorId }] });
    expectStatus(await post(job, 'readings', late), 201);
  });

  it('is no slip a quarter of an hour later, after the work, or in the air of another system', async () => {
    const job = await anHourOnSite();
    const at = { equipmentId: job.indoorId };
    await record(service, job, { readings: [{ ...dry(64), ...at, takenAt: ago(minutes(16)) }] });
    expectStatus(await post(job, 'readings', [{ ...wet(70), ...at }]), 201);
    const left = { ...dry(60), ...at, phase: 'left' };
    expectStatus(await post(job, 'readings', [left]), 201);
    const upstairs = await addAirHandler(job);
    expectStatus(await post(job, 'readings', [{ ...dry(60), equipmentId: upstairs }]), 201);
    expectProblem(await post(job, 'readings', [{ ...dry(60), ...at }]), 'reading-out-of-range');
  });

  it('by less than the two methods can tell apart is saturated air', async () => {
    const job = await arriveAtJob(service);
    const at = { equipmentId: job.indoorId };
    // Each is good to 1 F, the two together to 1.41 F.
    const saturated = [dry(55), wet(56.4)].map((each) => ({ ...each, ...at }));
    expectStatus(await post(job, 'readings', saturated), 201);
    const above = [{ ...wet(56.5), ...at }];
    expectProblem(await post(job, 'readings', above), 'reading-out-of-range');
  });
});

describe('what is noted on a machine that cannot have it', () => {
  const leadsOff = {
    unit: 'uF',
    method: 'capacitance_meter_disconnected',
    quantity: 'capacitance',
  };
  const amps = { unit: 'A', method: 'clamp_meter', quantity: 'current', value: 4 };

  it('is refused with the machines of the site that have it', async () => {
    const job = await arriveAtJob(service);
    const { outdoorId, indoorId } = job;
    const outdoor = { id: outdoorId, kind: 'condensing_unit' };
    const indoor = { id: indoorId, kind: 'air_handler' };
    const wrong = [
      {
        what: 'readings' as const,
        item: { ...leadsOff, point: 'capacitor_herm', value: 45, equipmentId: indoorId },
        fitting: outdoor,
      },
      {
        what: 'readings' as const,
        item: { ...amps, point: 'blower_lead', equipmentId: outdoorId },
        fitting: indoor,
      },
      {
        what: 'observations' as const,
        item: { code: 'drain_pan_full', answer: 'no', equipmentId: outdoorId },
        fitting: indoor,
      },
    ];
    for (const { what, item, fitting } of wrong) {
      const { body } = expectProblem(await post(job, what, [item]), 'unknown-reference');
      expect(body).toMatchObject({
        machines: [fitting],
        errors: [{ pointer: `/${what}/0/equipmentId`, code: 'not_on_this_machine' }],
      });
      expectStatus(await post(job, what, [{ ...item, equipmentId: fitting.id }]), 201);
    }
  });

  it('is said in words, also where no machine of the site has it', async () => {
    const job = await arriveAtJob(service);
    const pan = { code: 'drain_pan_full', answer: 'yes', equipmentId: job.outdoorId };
    const { body } = expectProblem(await post(job, 'observations', [pan]), 'unknown-reference');
    expect(body.detail).toBe(
      'This is not found on this kind of machine (condensing unit): The drain pan is full. ' +
        'Note it on: air handler.',
    );
    const told = await service.as('technician').post('/v1/assessments', {
      machines: [{ id: 'out', kind: 'condensing_unit', nameplate: {} }],
      readings: [],
      observations: [toldSeen('drain_pan_full', 'out')],
    });
    const alone = expectProblem(told, 'unknown-reference').body;
    expect(alone.detail).toMatch(/No machine here can have it\.$/);
    expect(alone.errors).toMatchObject([{ pointer: '/observations/0/equipmentId' }]);
  });

  it('what tells of the whole system or of the house may be noted on any machine of it', async () => {
    const job = await arriveAtJob(service);
    await record(service, job, {
      readings: [{ ...dry(76), equipmentId: job.outdoorId }],
      observations: [
        { code: 'filter_dirty', answer: 'no', equipmentId: job.outdoorId },
        { code: 'thermostat_calling_cooling', answer: 'yes', equipmentId: job.outdoorId },
        { code: 'breaker_found_tripped', answer: 'no', equipmentId: job.indoorId },
      ],
    });
  });

  it('a thermostat carries what is its own and of the house, and nothing of either side', async () => {
    const site = await addSite(service);
    const thermostat = await service
      .as('dispatcher')
      .post(`/v1/systems/${site.systemId}/equipment`, { kind: 'thermostat', nameplate: {} });
    const job = await arriveAtJob(service, site);
    const at = { equipmentId: expectStatus(thermostat, 201).body.id };
    const battery = { ...supply, point: 'thermostat_battery', value: 3, unit: 'V', ...at };
    expectStatus(await post(job, 'readings', [battery]), 201);
    const blank = { code: 'thermostat_screen_blank', answer: 'yes', ...at };
    expectStatus(await post(job, 'observations', [blank]), 201);
    const breaker = { code: 'breaker_found_tripped', answer: 'yes', ...at };
    expectProblem(await post(job, 'observations', [breaker]), 'unknown-reference');
    expectProblem(await post(job, 'readings', [{ ...dry(76), ...at }]), 'unknown-reference');
  });
});

describe('two things that cannot both be so', () => {
  const seen = (code: string, more: object = {}) => ({ code, answer: 'yes', ...more });

  it('are refused in one go, and one after the other within a minute, on the same machine', async () => {
    const job = await anHourOnSite();
    const at = { equipmentId: job.indoorId };
    const both = [seen('drain_pan_dry', at), seen('drain_pan_full', at)];
    const refused = expectProblem(await post(job, 'observations', both), 'validation-failed');
    expect(refused.body.errors).toMatchObject([
      {
        pointer: '/observations/0/answer',
        code: 'excluded',
        message: expect.stringMatching(/"The drain pan is full" and "The drain pan is dry"/),
      },
    ]);
    expect((await kept(job)).observations).toEqual([]);
    await record(service, job, { observations: [seen('drain_pan_full', at)] });
    const dryNow = [seen('drain_pan_dry', at)];
    expectProblem(await post(job, 'observations', dryNow), 'validation-failed');
    // Answered once more, the first is taken back.
    const corrected = [{ ...seen('drain_pan_full', at), answer: 'no' }, ...dryNow];
    expectStatus(await post(job, 'observations', corrected), 201);
  });

  it('may both be so when time or the work lies between them', async () => {
    const job = await anHourOnSite();
    const at = { equipmentId: job.indoorId };
    const earlier = { ...at, observedAt: ago(minutes(2)) };
    const left = { ...at, phase: 'left' };
    const both = [seen('drain_pan_dry', earlier), seen('drain_pan_full', at)];
    expectStatus(await post(job, 'observations', both), 201);
    expectStatus(await post(job, 'observations', [seen('drain_pan_dry', left)]), 201);
  });
});

describe('evidence that is told and not kept is held to the same', () => {
  const machines = [{ id: 'in', kind: 'air_handler', nameplate: {} }];
  const assess = (evidence: object) =>
    service
      .as('technician')
      .post('/v1/assessments', { machines, readings: [], observations: [], ...evidence });

  it('a wet bulb above its dry bulb', async () => {
    const bulbs = [wet(78), dry(64)].map((each, index) => ({
      ...{ ...each, id: `bulb-${index}`, equipmentId: 'in' },
      ...{ source: 'measured', phase: 'found', takenAt: '2026-07-14T15:00:00Z' },
    }));
    const { body } = expectProblem(await assess({ readings: bulbs }), 'reading-out-of-range');
    expect(body.errors).toMatchObject([
      { pointer: '/readings/0/value', code: 'wet_above_dry' },
      { pointer: '/readings/1/value' },
    ]);
  });

  it('a pan that is full and dry', async () => {
    const observations = [toldSeen('drain_pan_full', 'in'), toldSeen('drain_pan_dry', 'in')];
    const { body } = expectProblem(await assess({ observations }), 'validation-failed');
    expect(body.errors).toMatchObject([{ pointer: '/observations/1/answer', code: 'excluded' }]);
  });
});

function toldSeen(code: string, equipmentId: string): object {
  return {
    ...{ id: code, equipmentId, code, answer: 'yes', source: 'observed', phase: 'found' },
    at: '2026-07-14T15:00:00Z',
  };
}

async function kept(job: Job): Promise<{ readings: unknown[]; observations: unknown[] }> {
  const path = `/v1/visits/${job.visitId}/evidence`;
  return expectStatus(await service.as('technician').get(path), 200).body;
}

/** An air handler of a second system of the house. */
async function addAirHandler({ siteId }: Job): Promise<string> {
  const dispatcher = service.as('dispatcher');
  const system = await dispatcher.post(`/v1/sites/${siteId}/systems`, { name: 'Upstairs' });
  const machine = await dispatcher.post(
    `/v1/systems/${expectStatus(system, 201).body.id}/equipment`,
    { kind: 'air_handler', nameplate: {} },
  );
  return expectStatus(machine, 201).body.id;
}
