import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Nameplate } from '../../src/trade/index.ts';
import { addSite, outdoorPlate, type Site } from '../harness/job.ts';
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

/** Everything that a plate can say; a field that is added later and forgotten does not compile. */
const fullPlate: Required<Nameplate> = {
  ...outdoorPlate,
  contactorPoles: 2,
  meteringDevice: 'txv',
  stages: 2,
  factoryChargeOz: 98,
  controlFuseAmps: 3,
  transformerVa: 40,
  capacitorBlowerUf: 7.5,
  startCapacitorUfMin: 88,
  startCapacitorUfMax: 108,
  externalStaticMaxInWc: 0.5,
  targetSubcoolingDegF: 10,
  seer: 14.3,
  lineSetIncludedFt: 0,
  lineSetOzPerFt: 0.6,
  markedForA2l: false,
  heatInputBtuh: 80_000,
  heatEfficiencyPercent: 96.5,
  heatKw: 9.6,
  sensorOhmsAt77F: 10_000,
  sensorBetaK: 3_950,
  reversingValveOn: 'cooling',
};

describe('a nameplate', () => {
  it('comes out as it was typed in, to the last figure, and so it is on record', async () => {
    const site = await addSite(service, { outdoor: { kind: 'heat_pump', nameplate: fullPlate } });
    const read = await service.as('dispatcher').get(`/v1/equipment/${site.outdoorId}`);
    expect(expectStatus(read, 200).body.nameplate).toEqual(fullPlate);
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${site.outdoorId}`);
    expect(journal.body.items).toMatchObject([{ changes: { after: { nameplate: fullPlate } } }]);
  });

  it('is corrected and erased in any of its fields', async () => {
    const site = await addSite(service, { outdoor: { kind: 'heat_pump', nameplate: fullPlate } });
    const corrected = { targetSubcoolingDegF: 12, markedForA2l: true, reversingValveOn: 'heating' };
    const after = await change(site, { nameplate: corrected });
    expect(after.nameplate).toEqual({ ...fullPlate, ...corrected });
    const nothing = Object.fromEntries(Object.keys(fullPlate).map((field) => [field, null]));
    expect((await change(site, { nameplate: nothing })).nameplate).toEqual({});
  });
});

describe('a correction of a nameplate', () => {
  it('changes the fields it names and leaves the others', async () => {
    const site = await addSite(service);
    const after = await change(site, { nameplate: { capacitorHermUf: 35 } });
    expect(after.nameplate).toEqual({ ...outdoorPlate, capacitorHermUf: 35 });
  });

  it('erases a field by null, as it does outside the nameplate', async () => {
    const site = await addSite(service, { outdoor: { model: 'QX-36', installedOn: '2019-05-02' } });
    const after = await change(site, { nameplate: { tons: null }, installedOn: null });
    const { tons: _, ...rest } = outdoorPlate;
    expect(after).toMatchObject({ nameplate: rest, model: 'QX-36', installedOn: null });
    expect(after.nameplate).not.toHaveProperty('tons');
  });

  it('that is empty changes nothing', async () => {
    const site = await addSite(service);
    expect((await change(site, { nameplate: {} })).nameplate).toEqual(outdoorPlate);
  });

  it('is on record with the whole plate before and after', async () => {
    const site = await addSite(service);
    await change(site, { nameplate: { capacitorHermUf: 35, tons: null } });
    const entries = await service.owner.query<{ changes: string }>(
      `SELECT changes FROM journal_entry WHERE event = 'equipment.changed' AND subject_id = $1`,
      [site.outdoorId],
    );
    const { tons: _, ...rest } = outdoorPlate;
    expect(entries.rows.map(({ changes }) => JSON.parse(changes))).toMatchObject([
      {
        before: { nameplate: outdoorPlate },
        after: { nameplate: { ...rest, capacitorHermUf: 35 } },
      },
    ]);
  });

  it('is held against the figures that stay: the highest voltage against the lowest on record', async () => {
    const site = await addSite(service);
    const refused = await patch(site, { nameplate: { supplyVoltsMax: 120 } });
    expect(expectProblem(refused, 'validation-failed').body.errors).toEqual([
      {
        in: 'body',
        pointer: '/nameplate/supplyVoltsMin',
        code: 'above_maximum',
        message: 'must not be above the highest supply voltage, 120 V',
      },
    ]);
    await change(site, { nameplate: { supplyVoltsMin: 108, supplyVoltsMax: 132 } });
  });
});

describe('a figure that no plate says', () => {
  it.each(['add', 'change'])('is refused by its place when it is to %s a machine', async (how) => {
    const site = await addSite(service);
    const nameplate = { capacitorHermUf: 4_500, controlFuseAmps: 300 };
    const answer =
      how === 'change'
        ? await patch(site, { nameplate })
        : await service
            .as('dispatcher')
            .post(`/v1/systems/${site.systemId}/equipment`, { kind: 'condensing_unit', nameplate });
    expect(expectProblem(answer, 'validation-failed').body.errors).toMatchObject([
      {
        pointer: '/nameplate/capacitorHermUf',
        code: 'out_of_range',
        message: 'must be 1 to 150 uF; look at the plate again',
      },
      { pointer: '/nameplate/controlFuseAmps', code: 'out_of_range' },
    ]);
  });
});

async function patch({ outdoorId }: Site, body: object) {
  const dispatcher = service.as('dispatcher');
  const machine = await dispatcher.get(`/v1/equipment/${outdoorId}`);
  return dispatcher.patch(`/v1/equipment/${outdoorId}`, body, {
    ifMatch: machine.headers['etag'] ?? '',
  });
}

async function change(site: Site, body: object) {
  return expectStatus(await patch(site, body), 200).body;
}
