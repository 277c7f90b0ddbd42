import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { placesOf } from '../../src/workdays/index.ts';
import { buffersOf } from '../bench/buffers-of.ts';
import { rehearseStatements } from '../bench/servers/record-statements.ts';
import { addSite } from '../harness/job.ts';
import { townBase } from '../harness/open-days.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';

let service: TestService;
let client: pg.Client;
let siteId: string;
beforeAll(async () => {
  service = await createTestService();
  client = new pg.Client({ connectionString: service.url, options: '-c timezone=UTC' });
  await client.connect();
  siteId = (await addSite(service)).siteId;
});
afterAll(async () => {
  await client.end();
  await service.close();
});

/** So many homes at one place, in the postal code of the site that has none of its own. */
async function addNeighbors(count: number, latitudeDeg: number): Promise<void> {
  await client.query(
    `INSERT INTO site (id, street, city, region, postal_code, jurisdiction, latitude_deg,
       longitude_deg, occupant_id, approver_id, payer_id, created_at)
     SELECT ('ffffffff-0000-7000-8000-' || lpad((at + (SELECT count(*) FROM site))::text, 12, '0'))::uuid,
       at || ' Larch Walk', city, region, postal_code, jurisdiction, $3, -93, occupant_id,
       approver_id, payer_id, created_at
     FROM site, generate_series(1, $2::int) AS at WHERE id = $1`,
    [siteId, count, latitudeDeg],
  );
  await client.query('VACUUM ANALYZE site');
}

/** Where the site is taken to be, and how many pages it takes to say so. */
async function asked() {
  const recorder = rehearseStatements();
  const places = await placesOf(service.db.pool, [siteId], townBase);
  const sent = recorder.take();
  recorder.stop();
  expect(sent).toHaveLength(1);
  return { known: places.get(siteId), pages: await buffersOf(client, sent) };
}

describe('a site without a place of its own', () => {
  it('is where the last fifty of its postal code are, read with as many pages for any number', async () => {
    expect((await asked()).known).toEqual({
      ...{ place: { ...townBase, aboutSiteId: siteId }, placeIs: 'base' },
    });
    await addNeighbors(60, 41);
    const few = await asked();
    expect(few.known).toEqual({
      ...{ place: { latitudeDeg: 41, longitudeDeg: -93, aboutSiteId: siteId } },
      placeIs: 'postal_code',
    });
    // Half of the last fifty are elsewhere.
    await addNeighbors(20_000, 41);
    await addNeighbors(25, 42);
    const many = await asked();
    expect(many.known).toMatchObject({ place: { latitudeDeg: 41.5 }, placeIs: 'postal_code' });
    // One level more of each index that is descended.
    expect(many.pages, `${few.pages} then ${many.pages}`).toBeLessThan(few.pages + 60);
  });

  it('and one that does not exist is nowhere', async () => {
    expect(await placesOf(service.db.pool, [randomUUID()], townBase)).toEqual(new Map());
  });
});
