import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StaffKey } from '../../seed/company.ts';
import { addSite, arriveAtJob, type Job, outdoorPlate } from '../harness/job.ts';
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

const readings = {
  'gauge pressure': {
    point: 'suction_port',
    quantity: 'gauge_pressure',
    method: 'digital_gauge',
    value: 118,
    unit: 'psig',
  },
  vacuum: {
    point: 'evacuated_system',
    quantity: 'vacuum',
    method: 'vacuum_gauge',
    value: 500,
    unit: 'microns',
  },
  'weight of recovered refrigerant': {
    point: 'recovered_charge',
    quantity: 'mass',
    method: 'refrigerant_scale',
    value: 6,
    unit: 'lb',
  },
} as const;

describe('gauges', () => {
  it.each(Object.entries(readings))(
    'a %s is recorded by a technician with a universal or a type II certificate',
    async (_, reading) => {
      for (const type of ['universal', 'type_2']) {
        const job = await jobOf('technician', type);
        expectStatus(await measure(job, reading, 'technician'), 201);
      }
    },
  );

  it.each(Object.entries(readings))(
    'a %s is refused to a technician without a certificate that fits, and nothing of it is kept',
    async (_, reading) => {
      for (const [type, reason] of [
        [null, 'certificate_missing'],
        ['type_1', 'certificate_of_other_type'],
        ['type_3', 'certificate_of_other_type'],
      ] as const) {
        const job = await jobOf('technician', type);
        const refused = await measure(job, reading, 'technician');
        expect(expectProblem(refused, 'certificate-missing').body).toMatchObject({
          status: 403,
          detail: expect.stringContaining('need type II or universal'),
          reason,
          certificateHeld: type,
          certificatesAccepted: ['type_2', 'universal'],
        });
        const { body } = await service.as('owner').get(`/v1/visits/${job.visitId}/evidence`);
        expect(body.readings).toEqual([]);
      }
    },
  );

  it('are no different in the hands of the owner', async () => {
    const job = await jobOf('owner', null);
    const gauge = readings['gauge pressure'];
    expectProblem(await measure(job, gauge, 'owner'), 'certificate-missing');
    await certify('owner', 'universal');
    expectStatus(await measure(job, gauge, 'owner'), 201);
  });

  it('that somebody else says to have read are kept as reported, certificate or not', async () => {
    const job = await jobOf('technician', null);
    const reported = { ...readings['gauge pressure'], source: 'reported' };
    expectStatus(await measure(job, reported, 'technician'), 201);
  });

  it('are what the certificate is for: a meter and a thermometer ask for none', async () => {
    const job = await jobOf('technician', null);
    const line = {
      point: 'suction_line',
      quantity: 'temperature',
      method: 'pipe_clamp_thermometer',
    };
    expectStatus(await measure(job, { ...line, value: 52, unit: 'F' }, 'technician'), 201);
  });
});

describe('work on the refrigerant circuit', () => {
  it('is not found by somebody who may not do it', async () => {
    const job = await jobOf('technician', 'type_1');
    const compressor = { faultCode: 'compressor_locked', taskCode: 'replace_compressor' };
    expectProblem(await find(job, compressor), 'certificate-missing');
    expectProblem(await find(job, charge('REF-R-410A')), 'certificate-missing');
    const { body } = await service.as('technician').get(`/v1/visits/${job.visitId}/findings`);
    expect(body.items).toEqual([]);
  });

  it('is found by a certified technician, with the refrigerant of the nameplate', async () => {
    const job = await jobOf('technician', 'universal');
    expect(expectStatus(await find(job, charge('REF-R-410A')), 201).body).toMatchObject({
      taskCode: 'add_refrigerant',
      remedyClass: 'adjust',
      priceable: false,
    });
  });

  it.each(['REF-R-22', 'REF-R-454B'])(
    'never puts another refrigerant into a machine: %s into R-410A',
    async (part) => {
      const job = await jobOf('technician', 'universal');
      const refused = await find(job, charge(part));
      expect(expectProblem(refused, 'does-not-fit').body.detail).toMatch(
        /the nameplate says R-410A/i,
      );
    },
  );

  it('puts none into a machine whose refrigerant nobody has read', async () => {
    const { refrigerant: _, ...nameplate } = outdoorPlate;
    const site = await addSite(service, { outdoor: { nameplate } });
    await certify('technician', 'universal');
    const job = await arriveAtJob(service, site);
    const refused = await find(job, charge('REF-R-410A'));
    expect(expectProblem(refused, 'does-not-fit').body.detail).toMatch(/Record the refrigerant/);
  });
});

describe('whoever finds work on the circuit is told what to mind', () => {
  const cautionsOf = async (refrigerant: string, finding: object): Promise<string> => {
    await certify('technician', 'universal');
    const nameplate = { ...outdoorPlate, refrigerant };
    const job = await arriveAtJob(service, await addSite(service, { outdoor: { nameplate } }));
    const added = expectStatus(await find(job, finding), 201);
    const { body } = await service.as('technician').get(`/v1/visits/${job.visitId}/findings`);
    expect(body.items[0].cautions).toEqual(added.body.cautions);
    return added.body.cautions.join(' ');
  };

  it('of a refrigerant that can burn, from the nameplate', async () => {
    const cautions = await cautionsOf('R-454B', charge('REF-R-454B'));
    for (const word of ['certified technician', 'Recover before', 'can burn', 'rated for A2L']) {
      expect(cautions).toContain(word);
    }
  });

  it('of one that cannot, nothing about burning', async () => {
    const cautions = await cautionsOf('R-410A', charge('REF-R-410A'));
    expect(cautions).toContain('Recover before');
    expect(cautions).not.toContain('A2L');
  });

  it('and a capacitor is changed without a word of it', async () => {
    const cautions = await cautionsOf('R-454B', capacitor);
    expect(cautions).toContain('holds a charge');
    expect(cautions).not.toContain('A2L');
  });
});

it('every other finding asks for no certificate', async () => {
  const job = await jobOf('technician', null);
  expectStatus(await find(job, capacitor), 201);
});

const capacitor = {
  faultCode: 'run_capacitor_herm',
  taskCode: 'replace_dual_run_capacitor',
  parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
};

function charge(partCode: string) {
  return {
    faultCode: 'low_charge',
    taskCode: 'add_refrigerant',
    parts: [{ partCode, measured: '1.5' }],
  };
}

async function jobOf(who: StaffKey, certificate: string | null): Promise<Job> {
  await certify(who, certificate);
  return arriveAtJob(service);
}

async function certify(who: StaffKey, certificate: string | null): Promise<void> {
  await service.owner.query('UPDATE staff SET epa608_type = $2 WHERE id = $1', [
    service.staff[who].id,
    certificate,
  ]);
}

function measure(job: Job, reading: object, who: StaffKey) {
  const body = { readings: [{ ...reading, equipmentId: job.outdoorId }] };
  return service.as(who).post(`/v1/visits/${job.visitId}/readings`, body);
}

function find(job: Job, finding: object) {
  const body = { ...finding, equipmentId: job.outdoorId };
  return service.as('technician').post(`/v1/visits/${job.visitId}/findings`, body);
}
