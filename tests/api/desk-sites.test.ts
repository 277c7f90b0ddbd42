import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { addSite, bookJob, type Site } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

let service: TestService;
let place: Site;
beforeAll(async () => {
  service = await createTestService();
  place = await addSite(service, { outdoor: { maker: 'Boreal', model: 'BX-36' } });
});
afterAll(() => service.close());

const dispatcher = () => service.as('dispatcher');

async function readSite(
  id: string,
  who: 'dispatcher' | 'technician' = 'dispatcher',
): Promise<{ path: string; tag: string; body: Site }> {
  const path = `/v1/sites/${id}`;
  const { body, headers } = expectStatus(await service.as(who).get(path), 200);
  return { path, tag: headers['etag'] ?? '', body };
}

async function addCustomer(): Promise<string> {
  const person = { name: 'Peregrine Holt', phone: '555-0155' };
  return expectStatus(await dispatcher().post('/v1/customers', person), 201).body.id;
}

describe('a technician at the door', () => {
  it('finds the machine before him: each system of the site lists its equipment', async () => {
    await bookJob(service, place);
    const { body } = await readSite(place.siteId, 'technician');
    expect(body).toMatchObject({
      systems: [
        {
          id: place.systemId,
          name: 'Main floor',
          equipment: [
            { id: place.outdoorId, kind: 'condensing_unit', maker: 'Boreal', model: 'BX-36' },
            { id: place.indoorId, kind: 'air_handler', maker: null, model: null },
          ],
        },
      ],
    });
  });

  it('is never told "unchanged" when a machine was added or corrected', async () => {
    const before = await readSite(place.siteId);
    const machines = `/v1/systems/${place.systemId}/equipment`;
    const furnace = { kind: 'furnace', nameplate: {} };
    const added = expectStatus(await dispatcher().post(machines, furnace), 201);
    const grown = await readSite(place.siteId);
    expect(grown.tag).not.toBe(before.tag);
    const machine = `/v1/equipment/${added.body.id}`;
    const change = { model: 'F-80' };
    const tag = added.headers['etag'] ?? '';
    expectStatus(await dispatcher().patch(machine, change, { ifMatch: tag }), 200);
    expect((await readSite(place.siteId)).tag).not.toBe(grown.tag);
  });
});

describe('the sites of a repeat caller', () => {
  it('are found whether they live there, say yes or pay; page by page', async () => {
    const [person, other] = [await addCustomer(), await addCustomer()];
    const address = { street: '9 Fen Lane', city: 'Wrenfield', region: 'QX', postalCode: '00000' };
    const sites: string[] = [];
    for (const people of [
      { occupantId: person },
      { occupantId: other, approverId: person },
      { occupantId: other, payerId: person },
      { occupantId: other },
    ]) {
      const added = await dispatcher().post('/v1/sites', { ...address, ...people });
      sites.push(expectStatus(added, 201).body.id);
    }
    const first = await dispatcher().get(`/v1/sites?customerId=${person}&limit=2`);
    const rest = await dispatcher().get(
      `/v1/sites?customerId=${person}&cursor=${first.body.nextCursor}`,
    );
    const found = [...first.body.items, ...rest.body.items].map(({ id }: { id: string }) => id);
    expect(found).toEqual(sites.slice(0, 3));
    expect(rest.body.nextCursor).toBeNull();
    const elsewhere = `/v1/sites?customerId=${other}&cursor=${first.body.nextCursor}`;
    expectProblem(await dispatcher().get(elsewhere), 'cursor-invalid');
  });
});

describe('how high a site lies', () => {
  it('is kept with it from the first call, and unknown is no altitude', async () => {
    const person = await addCustomer();
    const address = { street: '9 Fen Lane', city: 'Wrenfield', region: 'QX', postalCode: '00000' };
    const add = async (given: object) => {
      const input = { ...address, occupantId: person, ...given };
      return expectStatus(await dispatcher().post('/v1/sites', input), 201).body;
    };
    const high = await add({ altitudeFt: 5_000 });
    expect((await readSite(high.id)).body).toMatchObject({ altitudeFt: 5_000 });
    expect(await add({})).toMatchObject({ altitudeFt: null });
    const journal = await service.as('owner').get(`/v1/journal?subjectId=${high.id}`);
    expect(journal.body.items).toMatchObject([
      { event: 'site.added', changes: { after: { altitudeFt: 5_000 } } },
    ]);
  });
});

describe('a site is changed', () => {
  it('in what is given and in nothing else; null empties', async () => {
    const payerId = await addCustomer();
    const before = await readSite(place.siteId);
    const change = {
      unit: 'B',
      accessNotes: 'Gate code at the desk.',
      altitudeFt: 5_280,
      payerId,
    };
    const changed = await dispatcher().patch(before.path, change, { ifMatch: before.tag });
    expect(expectStatus(changed, 200).body).toEqual({ ...before.body, ...change, version: 3 });
    expect((await readSite(place.siteId)).tag).toBe(changed.headers['etag']);
    const emptied = await dispatcher().patch(
      before.path,
      { unit: null, accessNotes: null, altitudeFt: null, approverLimitCents: null },
      { ifMatch: changed.headers['etag'] ?? '' },
    );
    expect(emptied.body).toMatchObject({
      unit: null,
      accessNotes: null,
      altitudeFt: null,
      payerId,
    });
  });

  it('by one of two who read the same version', async () => {
    const { path, tag } = await readSite(place.siteId);
    const [one, two] = await Promise.all(
      ['East', 'West'].map((unit) => dispatcher().patch(path, { unit }, { ifMatch: tag })),
    );
    expect([one?.status, two?.status].sort()).toEqual([200, 412]);
  });

  it.each([
    ['approverId', 'unknown-reference', randomUUID()],
    ['payerId', 'unknown-reference', randomUUID()],
    ['occupantId', 'validation-failed', randomUUID()],
    ['street', 'validation-failed', null],
    ['altitudeFt', 'validation-failed', 14_001],
    ['altitudeFt', 'validation-failed', -301],
    ['altitudeFt', 'validation-failed', 12.5],
  ] as const)('never to a %s that cannot be (%s)', async (field, slug, value) => {
    const { path, tag } = await readSite(place.siteId);
    const refused = await dispatcher().patch(path, { [field]: value }, { ifMatch: tag });
    expectProblem(refused, slug);
    expect(refused.body.errors).toEqual([expect.objectContaining({ pointer: `/${field}` })]);
  });

  it('on record: terms in words, the address only as a salted hash', async () => {
    const { path, tag } = await readSite(place.siteId);
    const change = {
      street: '77 Quillon Row',
      approverLimitCents: 25_000,
      altitudeFt: 7_200,
    };
    expectStatus(await dispatcher().patch(path, change, { ifMatch: tag }), 200);
    const journal = await service
      .as('owner')
      .get(`/v1/journal?order=newest&limit=1&subjectId=${place.siteId}`);
    const [entry] = journal.body.items;
    expect(entry).toMatchObject({
      event: 'site.changed',
      changes: {
        before: { approverLimitCents: null, altitudeFt: null },
        after: { approverLimitCents: 25_000, altitudeFt: 7_200 },
      },
    });
    expect(JSON.stringify(entry)).not.toContain('Quillon');
    const { personalBefore, personalAfter } = entry.changes;
    expect(personalAfter.street).not.toBe(personalBefore.street);
    expect(personalAfter.city).toBe(personalBefore.city);
  });
});

describe('a slip is told while somebody is on the phone', () => {
  const told = 'There is no tax rule for "quil_county". Known: quill_county.';

  it('in the jurisdiction of a new site and of a changed one', async () => {
    const site = {
      ...{ street: '3 Thistle Court', city: 'Wrenfield', region: 'QX', postalCode: '00000' },
      ...{ occupantId: place.customerId, jurisdiction: 'quil_county' },
    };
    const { path, tag } = await readSite(place.siteId);
    for (const refused of [
      await dispatcher().post('/v1/sites', site),
      await dispatcher().patch(path, { jurisdiction: 'quil_county' }, { ifMatch: tag }),
    ]) {
      expect(expectProblem(refused, 'unknown-reference').body.errors).toMatchObject([
        { pointer: '/jurisdiction', message: told },
      ]);
    }
    const right = { ...site, jurisdiction: 'quill_county' };
    expectStatus(await dispatcher().post('/v1/sites', right), 201);
  });

  it('in a symptom that nobody knows, with those that are known', async () => {
    const { siteId } = place;
    const ticket = { siteId, complaint: 'It blows warm air.', symptoms: ['no_cooling', 'banana'] };
    const refused = await dispatcher().post('/v1/tickets', ticket);
    expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
      { pointer: '/symptoms/1', message: expect.stringContaining('weak_cooling') },
    ]);
  });
});
