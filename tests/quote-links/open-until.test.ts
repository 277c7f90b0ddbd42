import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { linkOf } from '../../src/quote-links/index.ts';
import { atTime } from '../harness/fixed-clock.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { makeLink, type Offer, offerAtLink, visit, yesForm } from '../harness/visitor.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

/** The guard of answers alone: whatever else refuses this no, comes after it. */
async function guardLetsIn({ linkId, quote }: Offer, at: Date): Promise<boolean> {
  const client = await service.owner.connect();
  try {
    await client.query('BEGIN');
    await client.query(
      `INSERT INTO quote_decline (quote_id, revision, declined_by_name, declined_at, link_id)
       VALUES ($1, 1, 'Winifred Ashgrove', $2, $3)`,
      [quote.body.id, at, linkId],
    );
    return true;
  } catch (error) {
    return (error as { constraint?: string }).constraint !== 'quote_decline_living_link';
  } finally {
    await client.query('ROLLBACK');
    client.release();
  }
}

/** Made so late that its own thirty days are the last to end. */
async function madeLate(): Promise<Offer> {
  const offer = await offerAtLink(service);
  const link = await atTime(service.clock, '2026-08-13T18:00:00Z', () =>
    makeLink(service, offer.quote),
  );
  return { ...offer, ...link };
}

async function accepted(): Promise<Offer> {
  const offer = await offerAtLink(service);
  const visitor = await visit(service, offer);
  expectStatus(await visitor.post(`${offer.page}/accept`, yesForm(offer)), 303);
  return offer;
}

describe('the page and the guard of answers know the same last moment of a link', () => {
  it.each([
    ['thirty days after it was made', madeLate, '2026-09-12T18:00:00Z'],
    ['two weeks after its quote', () => offerAtLink(service), '2026-08-28T05:00:00Z'],
    ['a year after the yes', accepted, '2027-07-14T18:00:00Z'],
  ])('%s', async (_, make, end) => {
    const offer = await make();
    for (const [seconds, opens] of [
      [-1, true],
      [0, false],
      [1, false],
    ] as const) {
      const at = new Date(Date.parse(end) + seconds * 1_000);
      const link = await linkOf(service.db.prisma, offer.token, at);
      expect(link !== undefined, `the page at ${at.toISOString()}`).toBe(opens);
      expect(await guardLetsIn(offer, at), `the guard at ${at.toISOString()}`).toBe(opens);
    }
  });
});
