import { randomBytes } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type StaffKey, taxRule } from '../../seed/company.ts';
import { type ApiClient, apiClient } from '../../seed/demo/api-client.ts';
import { openTheDepot } from '../../seed/demo/depot.ts';
import { stories } from '../../seed/demo/stories.ts';
import { loadCompany } from '../../seed/load-company.ts';
import { priceBook } from '../../seed/price-book.ts';
import { systemClock } from '../../src/platform/clock.ts';
import { readConfig } from '../../src/platform/config.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { createLog } from '../../src/platform/log.ts';
import { start } from '../../src/start.ts';
import { realServer } from '../delivery/real-server.ts';
import { createTestDatabase, type TestDatabase } from '../harness/test-database.ts';
import { temporaryFolder, type Undo, undoAll, until } from './temporary.ts';

const undo: Undo = [];
const lines: string[] = [];
/** What let somebody in: tokens of staff, of links and calendars, cookies, and one that is wrong. */
const keys = new Set<string>();
/** Whoever stands in no record and was typed all the same. */
const stranger = 'Zenobia Quarterstaff';
/** The server of mails knows nobody of this name. */
const unknownMail = 'osterley@example.com';
let database: TestDatabase;
let arrivedCount: number;
let mailedLinks: number;
let people: { names: string[]; phones: string[]; mails: string[] };

beforeAll(async () => {
  database = await createTestDatabase();
  undo.push(database.drop);
  const server = await realServer({
    disabledCommands: ['STARTTLS', 'AUTH'],
    // It repeats whom it refuses, as servers do.
    onRcptTo: ({ address }, _, done) => done(address === unknownMail ? noSuchUser(address) : null),
  });
  undo.push(server.close);
  const config = readConfig({
    ...{ DATABASE_URL: database.url, PORT: '0', PUBLIC_URL: 'https://jobs.example.com' },
    SMTP_URL: `smtp://127.0.0.1:${server.port}`,
    EVENHAND_DATA_DIR: await temporaryFolder(undo),
  });
  const log = createLog('trace', { write: (line) => void lines.push(line) });
  const running = await start(config, log);
  undo.push(running.stop);
  const staff = await loadCompany({
    ...{ db: running.db, clock: systemClock },
    ids: timedIds(systemClock),
  });
  const as = (who: StaffKey) => {
    keys.add(staff[who].token);
    return overheard(apiClient(running.url, staff[who].token));
  };
  await as('owner').post('/v1/price-books', priceBook);
  await as('owner').post('/v1/tax-rules', taxRule);
  await openTheDepot(as('owner'), staff);
  for (const story of stories) {
    await story({
      dispatcher: as('dispatcher'),
      technician: as('technician'),
      technicianId: staff.technician.id,
      say: () => undefined,
    });
  }
  await searchAndSubscribe(as('dispatcher'), staff.technician.id, running.url);
  await knockWith(randomBytes(32).toString('base64url'), running.url);
  await until(async () => {
    const waiting = '/v1/deliveries?state=waiting,sending&limit=1';
    return (await as('dispatcher').get(waiting)).body.items.length === 0;
  });
  people = await readPeople();
  const before = keys.size;
  for (const mail of server.arrived) noteKeys(mail.replaceAll('=\r\n', ''));
  mailedLinks = keys.size - before;
  for (const key of linksOf([...keys])) await openLink(key, running.url);
  arrivedCount = server.arrived.length;
}, 240_000);
afterAll(() => undoAll(undo));

describe('the log of a whole afternoon, told in every detail', () => {
  it('is about all of it: requests, refusals, failures, mails that were not taken', () => {
    const messages = lines.map((line) => JSON.parse(line).msg);
    for (const told of ['incoming request', 'request refused', 'a delivery did not go out']) {
      expect(messages).toContain(told);
    }
    expect(lines.length).toBeGreaterThan(400);
    expect(arrivedCount).toBeGreaterThan(5);
  });

  it('holds no token, no link, no calendar, no cookie and no password', () => {
    // Three of staff, one of a link, one of a calendar, one that is wrong, and those in mails.
    expect(keys.size).toBeGreaterThan(6);
    expect(mailedLinks).toBeGreaterThan(0);
    const { password } = new URL(database.url);
    expect(found([...keys, ...(password === '' ? [] : [password])])).toEqual([]);
  });

  it('holds no name', () => {
    expect(people.names.length).toBeGreaterThan(10);
    expect(found([...people.names, stranger].flatMap((name) => name.split(' ')))).toEqual([]);
  });

  it('holds no phone number and no mail address', () => {
    expect(people.phones.length).toBeGreaterThan(8);
    expect(people.mails.length).toBeGreaterThan(5);
    expect(found([...people.phones, ...people.mails])).toEqual([]);
    expect(found(['@example.com'])).toEqual([]);
  });

  it('says who asked by kind and id, and nothing else of them', () => {
    const askers = lines.flatMap((line) => JSON.parse(line).asker ?? []);
    expect(new Set(askers.map(({ kind }) => kind))).toEqual(
      new Set(['staff', 'customer', 'calendar_feed']),
    );
    for (const asker of askers) {
      expect(Object.keys(asker).sort()).toEqual(['id', 'kind']);
      expect(asker.id).toMatch(/^[\da-f]{8}(-[\da-f]{4}){3}-[\da-f]{12}$/);
    }
  });

  it('leads from every answer to its lines', () => {
    const ids = new Set(lines.map((line) => JSON.parse(line).reqId));
    expect(answeredIds.length).toBeGreaterThan(5);
    for (const id of answeredIds) expect(ids).toContain(id);
  });
});

/** Those of the words that stand in the log; identifiers by chance look like phone numbers. */
function found(words: readonly string[]): string[] {
  const text = lines.join('').replaceAll(UUID, '').toLowerCase();
  return words.filter((word) => text.includes(word.toLowerCase()));
}

const UUID = /[\da-f]{8}(-[\da-f]{4}){3}-[\da-f]{12}/g;

/** Whatever in an answer lets somebody in: what stands below /q/ and /calendar/. */
function noteKeys(text: string): void {
  for (const [, , key = ''] of text.matchAll(/\/(q|calendar)\/([\w-]{43})/g)) keys.add(key);
}

/** All of them are tried: what is no link is refused, and says so in the log. */
function linksOf(known: readonly string[]): string[] {
  return known.filter((key) => key.length === 43);
}

function overheard(client: ApiClient): ApiClient {
  const note = async (answer: ReturnType<ApiClient['get']>) => {
    noteKeys(JSON.stringify((await answer).body));
    return answer;
  };
  return {
    ...client,
    get: (path) => note(client.get(path)),
    post: (path, body, ifMatch) => note(client.post(path, body, ifMatch)),
    patch: (path, body, ifMatch) => note(client.patch(path, body, ifMatch)),
  };
}

const answeredIds: string[] = [];

async function visit(url: string, init: RequestInit = {}): Promise<Response> {
  const answer = await fetch(url, { redirect: 'manual', ...init });
  answeredIds.push(answer.headers.get('x-request-id') ?? 'none');
  return answer;
}

/** People are looked for by name and number, and a phone subscribes to a calendar. */
async function searchAndSubscribe(
  dispatcher: ApiClient,
  technicianId: string,
  url: string,
): Promise<void> {
  for (const search of ['penhallow', '555-0126', 'quenell@example.com', stranger]) {
    await dispatcher.get(`/v1/customers?search=${encodeURIComponent(search)}`);
  }
  const { body } = await dispatcher.post(`/v1/technicians/${technicianId}/calendar-feeds`);
  await visit(`${url}${new URL(body.url).pathname}`);
}

/** Somebody tries to get in by a token that opens nothing, in every way. */
async function knockWith(token: string, url: string): Promise<void> {
  keys.add(token);
  await visit(`${url}/v1/company`, { headers: { authorization: `Bearer ${token}` } });
  await visit(`${url}/v1/company?token=${token}`, { headers: { cookie: `session=${token}` } });
  for (const address of ['q', 'v1/tickets', 'paper', '%zz'])
    await visit(`${url}/${address}/${token}`);
  const headers = { authorization: `Bearer ${[...keys][0]}`, 'content-type': 'application/json' };
  const body = JSON.stringify({ name: stranger, phone: 555, email: token });
  const key = { 'idempotency-key': crypto.randomUUID() };
  await visit(`${url}/v1/customers`, { method: 'POST', headers: { ...headers, ...key }, body });
  await visit(`${url}/v1/customers`, { method: 'POST', headers, body: `{${stranger}` });
}

/** The customer opens the link, reads the page it leads to and types a name there. */
async function openLink(token: string, url: string): Promise<void> {
  const opened = await visit(`${url}/q/${token}`);
  const cookie = opened.headers.getSetCookie().map((each) => each.split(';')[0] ?? '');
  for (const each of cookie) keys.add(each.slice(each.indexOf('=') + 1));
  const page = opened.headers.get('location');
  if (page === null) return;
  const there = new URL(page, url).pathname;
  const headers = {
    cookie: cookie.join('; '),
    'content-type': 'application/x-www-form-urlencoded',
  };
  await visit(`${url}${there}`, { headers });
  const body = new URLSearchParams({ name: stranger, phone: '555-0199' }).toString();
  await visit(`${url}${there}/accept`, { method: 'POST', headers, body });
}

/** As RFC 5321 says it, for good. */
function noSuchUser(address: string): Error {
  return Object.assign(new Error(`No such user <${address}> here`), { responseCode: 550 });
}

/** Everybody on record, as the database holds them. */
async function readPeople() {
  const { rows } = await database.owner.query<{ name: string; phone: string; email: string }>(`
    SELECT name, phone, email FROM customer UNION SELECT name, phone, email FROM staff`);
  const company = await database.owner.query('SELECT phone, email FROM company');
  const all = [...rows, ...company.rows];
  const known = (values: (string | null | undefined)[]) =>
    values.filter((value): value is string => typeof value === 'string' && value !== '');
  return {
    names: known(rows.map(({ name }) => name)),
    phones: known(all.map(({ phone }) => phone)),
    mails: known(all.map(({ email }) => email)),
  };
}
