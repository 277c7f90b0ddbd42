import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { currentEvidenceRuleset, evidenceRulesets, evidenceSchema } from '../../src/trade/index.ts';
import { record } from '../harness/findings.ts';
import {
  addFinding,
  addSite,
  arriveAtJob,
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

const line = { point: 'suction_line', quantity: 'temperature', method: 'pipe_clamp_thermometer' };
const supply = { point: 'line_supply', quantity: 'voltage', method: 'multimeter' };

describe('what a finding keeps of its system', () => {
  it('is all that may stand in its verdict and nothing else, whichever machine it was noted on', async () => {
    const job = await arriveAtJob(service);
    const upstairs = await addSystem(job);
    const at = { unit: 'F', ...line };
    await record(service, job, {
      readings: [
        { ...at, equipmentId: job.indoorId, value: 52.1 },
        { ...at, equipmentId: upstairs, value: 57.8 },
        { ...supply, equipmentId: job.indoorId, value: 241, unit: 'V' },
        { ...supply, equipmentId: job.outdoorId, value: 239, unit: 'V' },
      ],
      observations: [
        { equipmentId: job.indoorId, code: 'filter_dirty', answer: 'no' },
        { equipmentId: job.indoorId, code: 'drain_pan_full', answer: 'no' },
        { equipmentId: upstairs, code: 'filter_dirty', answer: 'yes' },
        { equipmentId: job.indoorId, code: 'thermostat_calling_cooling', answer: 'yes' },
        { equipmentId: upstairs, code: 'thermostat_calling_cooling', answer: 'no' },
        { code: 'registers_closed', answer: 'no' },
      ],
    });
    const evidence = await evidenceOf(await findCapacitor(job));
    expect(evidence).toMatchObject({
      equipment: { id: job.outdoorId, nameplate: outdoorPlate },
      system: [{ id: job.indoorId, kind: 'air_handler', nameplate: { controlFuseAmps: 3 } }],
      readings: [
        { equipmentId: job.indoorId, point: 'suction_line', value: 52.1 },
        { equipmentId: job.outdoorId, point: 'line_supply', value: 239 },
      ],
      observations: [
        { equipmentId: job.indoorId, code: 'filter_dirty', answer: 'no' },
        { equipmentId: job.indoorId, code: 'thermostat_calling_cooling', answer: 'yes' },
        { code: 'registers_closed', answer: 'no' },
      ],
    });
    expect(evidence).not.toHaveProperty('altitudeFt');
  });

  it('holds how high the site lies, as it was when the finding was made', async () => {
    const site = await addSite(service);
    const setAltitude = async (altitudeFt: number) => {
      const path = `/v1/sites/${site.siteId}`;
      const { headers } = await service.as('dispatcher').get(path);
      const options = { ifMatch: headers['etag'] ?? '' };
      expectStatus(await service.as('dispatcher').patch(path, { altitudeFt }, options), 200);
    };
    await setAltitude(5_280);
    const job = await arriveAtJob(service, site);
    const finding = await findCapacitor(job);
    await setAltitude(700);
    expect(await evidenceOf(finding)).toMatchObject({ altitudeFt: 5_280 });
  });

  it('gives the same verdict again, from itself alone', async () => {
    const job = await arriveAtJob(service);
    await record(service, job, {
      readings: [{ ...line, equipmentId: job.indoorId, value: 11, unit: 'Cel' }],
    });
    await proveCapacitor(service, job);
    const id = await findCapacitor(job);
    const [stored] = await rowsOf(id);
    const { weigh } = evidenceRulesets[currentEvidenceRuleset];
    expect(stored?.verdict).toMatchObject({ standing: 'proven' });
    expect(weigh('run_capacitor_herm', evidenceSchema.parse(stored?.evidence))).toEqual(
      stored?.verdict,
    );
  });
});

it('a finding on a machine of another site is refused', async () => {
  const job = await arriveAtJob(service);
  const elsewhere = await addSite(service);
  const refused = await service.as('technician').post(`/v1/visits/${job.visitId}/findings`, {
    ...capacitor,
    equipmentId: elsewhere.outdoorId,
  });
  expect(expectProblem(refused, 'unknown-reference').body.errors).toMatchObject([
    { pointer: '/equipmentId' },
  ]);
});

const capacitor = {
  faultCode: 'run_capacitor_herm',
  taskCode: 'replace_dual_run_capacitor',
  parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
};

function findCapacitor(job: Job): Promise<string> {
  return addFinding(service, job, { equipmentId: job.outdoorId, ...capacitor });
}

/** A second system of the house, with an outdoor unit of its own. */
async function addSystem({ siteId }: Job): Promise<string> {
  const dispatcher = service.as('dispatcher');
  const system = await dispatcher.post(`/v1/sites/${siteId}/systems`, { name: 'Upstairs' });
  const machine = await dispatcher.post(
    `/v1/systems/${expectStatus(system, 201).body.id}/equipment`,
    { kind: 'condensing_unit', nameplate: outdoorPlate },
  );
  return expectStatus(machine, 201).body.id;
}

async function evidenceOf(findingId: string): Promise<unknown> {
  const [stored] = await rowsOf(findingId);
  return stored?.evidence;
}

async function rowsOf(findingId: string): Promise<{ evidence: unknown; verdict: unknown }[]> {
  const { rows } = await service.owner.query<{ evidence: unknown; verdict: unknown }>(
    'SELECT evidence, verdict FROM finding WHERE id = $1',
    [findingId],
  );
  return rows;
}
