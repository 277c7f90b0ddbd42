import { randomUUID } from 'node:crypto';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { company, taxRule } from '../../seed/company.ts';
import { priceBook } from '../../seed/price-book.ts';
import { routes } from '../../src/app.ts';
import { bookJob } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

const path = '/v1/company';

describe('before anybody has said who the company is', () => {
  let service: TestService;
  beforeAll(async () => {
    service = await createTestService({ isSetUp: false });
  });
  afterAll(() => service.close());

  /** What somebody has to be able to do before: come in, and let others in. */
  const usable = [
    'setUpCompany',
    ...['getMe', 'listStaff', 'listStaffAccess', 'inviteStaff', 'renewSignInLink'],
    ...['disableStaff', 'enableStaff', 'removeSecondFactor'],
    ...['listOwnSessions', 'endOwnSession'],
  ];
  const ofStaff = routes.filter(({ access }) => access !== 'public');
  const waiting = ofStaff.filter(
    ({ kind, operationId }) => kind !== 'entrance' && !usable.includes(operationId),
  );

  const refusal = {
    code: 'not-allowed-now',
    currentState: 'not_set_up',
    allowedActions: ['setUpCompany'],
  };

  /** What the owner is told at a route, about things that are not there. */
  async function told({ method, path: address }: (typeof routes)[number]): Promise<unknown> {
    const { token } = service.staff.owner;
    const answer = await service.app.inject({
      ...{ method, url: address.replace(/:\w+/g, () => randomUUID()) },
      headers: { authorization: `Bearer ${token}`, 'idempotency-key': randomUUID() },
    });
    return answer.json();
  }

  it.each(waiting)('$operationId is refused, and says what to do', async (route) => {
    expect(await told(route)).toMatchObject(refusal);
  });

  it.each(ofStaff.filter((route) => !waiting.includes(route)))(
    '$operationId is not',
    async (route) => {
      expect(await told(route)).not.toMatchObject(refusal);
    },
  );

  it('whoever may not come in learns nothing of it', async () => {
    expectProblem(await service.as('nobody').get(path), 'unauthenticated');
  });

  it('people are invited already', async () => {
    const body = { name: 'Ilse Farrow', role: 'technician', email: 'ilse@example.com' };
    expectStatus(await service.as('owner').post('/v1/staff', body), 201);
    expectStatus(await service.as('owner').get('/v1/me'), 200);
  });
});

describe('the owner says who the company is', () => {
  let service: TestService;
  beforeEach(async () => {
    service = await createTestService({ isSetUp: false });
  });
  afterEach(() => service.close());

  it('and from then on everybody works: a book, a tax rule, a call, a visit', async () => {
    const owner = service.as('owner');
    const said = expectStatus(await owner.post(path, company), 201);
    expect(said.body).toEqual({ ...company, version: 1 });
    expect([said.headers['etag'], said.headers['location']]).toEqual(['"v1"', path]);
    expectStatus(await owner.post('/v1/price-books', priceBook), 201);
    expectStatus(await owner.post('/v1/tax-rules', taxRule), 201);
    await bookJob(service);
    const read = expectStatus(await service.as('technician').get(path), 200);
    expect(read.body).toEqual(said.body);
  });

  it('and of owners who say it at once one is heard, the others are told', async () => {
    const names = ['One', 'Two', 'Three', 'Four', 'Five', 'Six'];
    const answers = await Promise.all(
      names.map((name) => service.as('owner').post(path, { ...company, name })),
    );
    const [first, ...others] = answers.toSorted((one, other) => one.status - other.status);
    expect(first?.status).toBe(201);
    for (const other of others) {
      expectProblem(expectStatus(other, 409), 'already-exists');
    }
    const read = await service.as('owner').get(path);
    expect(read.body.name).toBe(first?.body.name);
  });

  it('and nobody else may', async () => {
    for (const who of ['dispatcher', 'technician'] as const) {
      expectProblem(await service.as(who).post(path, company), 'forbidden');
    }
  });

  it.each([
    ['a zone that is none', { timeZone: 'Mars/Olympus_Mons' }],
    ['a distance from UTC, which knows no summer time', { timeZone: '-06:00' }],
    ['a zone with the distance in its name', { timeZone: 'UTC+6' }],
    ['no zone', { timeZone: undefined }],
    ['an e-mail that is none', { email: 'office' }],
    ['a name that is empty', { name: ' ' }],
    ['a name that turns around when it is read', { name: 'Sparrowgate \u202e' }],
    ['a jurisdiction that is no code', { defaultJurisdiction: 'Quill County' }],
  ])('but not %s', async (_, wrong) => {
    const refused = await service.as('owner').post(path, { ...company, ...wrong });
    expectProblem(expectStatus(refused, 400), 'validation-failed');
    const { rows } = await service.owner.query('SELECT FROM company');
    expect(rows).toEqual([]);
  });

  it.each(['America/Phoenix', 'America/Indiana/Knox', 'Pacific/Honolulu', 'UTC'])(
    'with the zone %s as with any other of the IANA database',
    async (timeZone) => {
      expectStatus(await service.as('owner').post(path, { ...company, timeZone }), 201);
    },
  );

  it('and corrects a zone while nobody has told a day by it, and not after', async () => {
    const owner = service.as('owner');
    expectStatus(await owner.post(path, company), 201);
    const away = { timeZone: 'America/Denver' };
    const corrected = await owner.patch(path, away, { ifMatch: '"v1"' });
    expect(expectStatus(corrected, 200).body).toMatchObject({ ...away, version: 2 });
    const unknown = await owner.patch(path, { timeZone: 'Mars/X' }, { ifMatch: '"v2"' });
    expectProblem(unknown, 'validation-failed');
    expectStatus(await owner.post('/v1/price-books', priceBook), 201);
    const late = await owner.patch(path, { timeZone: 'UTC' }, { ifMatch: '"v2"' });
    expectProblem(expectStatus(late, 409), 'not-allowed-now');
    const same = await owner.patch(path, { ...away, name: 'Larkfield' }, { ifMatch: '"v2"' });
    expect(expectStatus(same, 200).body).toMatchObject({ ...away, name: 'Larkfield', version: 3 });
  });
});

describe('what the company says of itself', () => {
  let service: TestService;
  beforeAll(async () => {
    service = await createTestService();
  });
  afterAll(() => service.close());

  it('changes for what comes, and leaves what is out as it was', async () => {
    const owner = service.as('owner');
    const { headers, body } = expectStatus(await owner.get(path), 200);
    const change = { phone: '555-0188', licenseNumber: 'INVENTED-0418' };
    const changed = await owner.patch(path, change, { ifMatch: headers['etag'] ?? '' });
    expect(expectStatus(changed, 200).body).toEqual({ ...body, ...change, version: 2 });
    const { rows } = await service.owner.query<{ changes: string }>(
      `SELECT changes FROM journal_entry WHERE event = 'company.changed'`,
    );
    const entry = JSON.parse(rows[0]?.changes ?? '');
    expect(entry).toMatchObject({ before: { phone: company.phone }, after: change });
  });

  it('is changed by one of those who come at once, and the others are told', async () => {
    const owner = service.as('owner');
    const { headers, body } = await owner.get(path);
    const ifMatch = headers['etag'] ?? '';
    const phones = ['555-0181', '555-0182', '555-0183', '555-0184', '555-0185'];
    const answers = await Promise.all(
      phones.map((phone) => owner.patch(path, { phone }, { ifMatch })),
    );
    expect(answers.map(({ status }) => status).sort()).toEqual([200, 412, 412, 412, 412]);
    const changed = answers.find(({ status }) => status === 200);
    expect((await owner.get(path)).body).toEqual(changed?.body);
    expect(changed?.body.version).toBe(body.version + 1);
  });

  it('is asked for again only when it was changed', async () => {
    const { headers } = await service.as('technician').get(path);
    const tag = { 'if-none-match': headers['etag'] ?? '' };
    expectStatus(await service.as('technician').get(path, tag), 304);
  });

  it('cannot be said a second time', async () => {
    expectProblem(await service.as('owner').post(path, company), 'already-exists');
  });
});
