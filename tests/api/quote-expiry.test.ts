import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import {
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type QuoteAt,
  yesTo,
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
beforeEach(async () => {
  // Before any of the days below, so that every arrival window is still ahead.
  service.clock.set('2026-01-05T18:00:00Z');
  await setZone('America/Chicago');
});

/*
 * A quote is valid for 30 days after the day it is issued on, to the end of the last of them on
 * the company's clock. The instants are worked from the published zone rules: in America/Chicago
 * clocks go forward on 2026-03-08 and back on 2026-11-01 at two in the morning.
 */
const cases = [
  {
    name: 'a summer day in Chicago (UTC-5)',
    zone: 'America/Chicago',
    issued: '2026-07-14T18:00:00Z',
    ends: '2026-08-14T05:00:00.000Z',
  },
  {
    name: 'late in the evening, when it is the next day in UTC already',
    zone: 'America/Chicago',
    issued: '2026-07-15T04:30:00Z',
    ends: '2026-08-14T05:00:00.000Z',
  },
  {
    name: 'the last day is the short one, when clocks go forward',
    zone: 'America/Chicago',
    issued: '2026-02-06T18:00:00Z',
    ends: '2026-03-09T05:00:00.000Z',
  },
  {
    name: 'the last day is the long one, when clocks go back',
    zone: 'America/Chicago',
    issued: '2026-10-02T18:00:00Z',
    ends: '2026-11-02T06:00:00.000Z',
  },
  {
    name: 'half an hour before midnight, a day of 23 hours before the end',
    zone: 'America/Chicago',
    issued: '2026-02-07T05:30:00Z',
    ends: '2026-03-09T05:00:00.000Z',
  },
  {
    name: 'half an hour after midnight, a day of 25 hours before the end',
    zone: 'America/Chicago',
    issued: '2026-10-02T05:30:00Z',
    ends: '2026-11-02T06:00:00.000Z',
  },
  {
    name: 'a company half an hour off the hour, east of UTC',
    zone: 'Asia/Kolkata',
    issued: '2026-07-14T18:00:00Z',
    ends: '2026-08-13T18:30:00.000Z',
  },
  {
    name: 'a company west of UTC, where it is still the day before',
    zone: 'Pacific/Honolulu',
    issued: '2026-07-14T08:00:00Z',
    ends: '2026-08-13T10:00:00.000Z',
  },
];

describe.each(cases)('a quote issued on $name', ({ zone, issued, ends }) => {
  it('stands until that local midnight, and not a millisecond longer', async () => {
    const drafts = [await draftedQuote(), await draftedQuote()] as const;
    await setZone(zone);
    service.clock.set(issued);
    const kept = await issueQuote(service, drafts[0]);
    const late = await issueQuote(service, drafts[1]);
    expect(kept.body).toMatchObject({ validUntil: ends, expired: false });

    service.clock.set(new Date(Date.parse(ends) - 1).toISOString());
    expect(await read(kept)).toMatchObject({ tag: kept.tag, body: { expired: false } });
    expectStatus(await send(kept, 'accept', yesTo(kept)), 200);

    service.clock.set(ends);
    const expired = await read(late);
    expect(expired.body).toMatchObject({ state: 'issued', expired: true });
    // Nobody wrote anything, and yet it is not what was read before.
    expect(expired.tag).not.toBe(late.tag);
    expectProblem(await send(late, 'accept', yesTo(late)), 'version-changed');
    const refusal = expectProblem(await send(expired, 'accept', yesTo(late)), 'quote-expired');
    expect(refusal.status).toBe(409);
    expect(refusal.body.validUntil).toBe(ends);
  });
});

describe('an expired quote', () => {
  it('may still be declined: a no is always welcome', async () => {
    const expired = await expiredQuote();
    const declined = await send(expired, 'decline', {
      declinedByName: 'Winifred Ashgrove',
      conditionLeft: 'Running as found.',
    });
    expect(expectStatus(declined, 200).body).toMatchObject({ state: 'declined', expired: false });
  });

  it('is made good by a new revision with a validity of its own', async () => {
    const expired = await expiredQuote();
    const revised = await send(expired, 'revise', {
      options: [{ title: 'Repair', findingIds: findingsIn(expired) }],
    });
    const issued = await send(at(expectStatus(revised, 200)), 'issue', {});
    const again = at(expectStatus(issued, 200));
    expect(again.body).toMatchObject({ revision: 2, state: 'issued', expired: false });
    expectStatus(await send(again, 'accept', yesTo(again)), 200);
  });

  it('says so in its own words on the paper: the last day, not the midnight after it', async () => {
    service.clock.set('2026-07-14T18:00:00Z');
    const quote = await issuedQuote();
    const kept = await service.owner.query<{ paper: Record<string, string> }>(
      'SELECT paper FROM quote_issue WHERE quote_id = $1',
      [quote.body.id],
    );
    expect(kept.rows[0]?.paper).toMatchObject({
      issuedText: 'July 14, 2026',
      validUntilText: 'the end of August 13, 2026',
    });
  });
});

async function setZone(zone: string): Promise<void> {
  await service.owner.query('UPDATE company SET time_zone = $1', [zone]);
}

async function draftedQuote(): Promise<QuoteAt> {
  const job = await arriveAtJob(service);
  return draftQuote(service, job, [await findCapacitor(service, job)]);
}

async function issuedQuote(): Promise<QuoteAt> {
  return issueQuote(service, await draftedQuote());
}

async function expiredQuote(): Promise<QuoteAt> {
  const quote = await issuedQuote();
  service.clock.set(quote.body.validUntil);
  return read(quote);
}

function findingsIn({ body }: QuoteAt): string[] {
  const ids: string[] = body.options[0].lines.flatMap(
    (line: { findingIds: string[] }) => line.findingIds,
  );
  return [...new Set(ids)];
}

async function read(quote: QuoteAt): Promise<QuoteAt> {
  return at(expectStatus(await service.as('technician').get(`/v1/quotes/${quote.body.id}`), 200));
}

function send(quote: QuoteAt, verb: string, body: object) {
  const path = `/v1/quotes/${quote.body.id}/${verb}`;
  return service.as('technician').post(path, body, { ifMatch: quote.tag });
}

function at(response: Awaited<ReturnType<typeof send>>): QuoteAt {
  return { body: response.body, tag: response.headers['etag'] ?? '' };
}
