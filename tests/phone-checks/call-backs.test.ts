import { describe, expect, it } from 'vitest';
import { phoneFactsOf } from '../../src/phone-checks/index.ts';
import {
  answerAll,
  noDanger,
  phoneService,
  sendToChecks,
  solveCall,
  startChecks,
  takeCall,
} from '../harness/phone-checks.ts';
import { expectProblem, expectStatus } from '../harness/test-service.ts';

const service = await phoneService();
const dispatcher = () => service.as('dispatcher');

interface Due {
  id: string;
  ticketId: string;
  version: number;
}

async function listDue(query = ''): Promise<{ items: Due[]; nextCursor: string | null }> {
  return expectStatus(await dispatcher().get(`/v1/call-backs${query}`), 200).body;
}

async function dueOf(ticketId: string): Promise<Due> {
  const { items } = await listDue('?limit=100');
  const due = items.find((each) => each.ticketId === ticketId);
  if (due === undefined) throw new Error(`no call back for ${ticketId}`);
  return due;
}

async function sendMade({ id, version }: Due, body: object) {
  return dispatcher().post(`/v1/call-backs/${id}/made`, body, { ifMatch: `"v${version}"` });
}

describe('a ticket that was solved by phone', () => {
  it('is called back about, with everything the caller has to be asked', async () => {
    const { ticketId, siteId, customerId } = await solveCall(service);
    expect(await dueOf(ticketId)).toEqual({
      id: expect.any(String),
      ticketId,
      ticketNumber: expect.any(Number),
      siteId,
      callerId: customerId,
      callerName: 'Winifred Ashgrove',
      callerPhone: '555-0111',
      callerLanguage: 'en',
      complaint: 'It blows warm air.',
      whatHelped: 'Set to cool.',
      dueAt: new Date(service.clock.now().getTime() + 86_400_000).toISOString(),
      tries: 0,
      outcome: null,
      note: null,
      madeAt: null,
      nextTicketId: null,
      version: 1,
    });
  });

  it('is called back about also where it was solved without the dialogue', async () => {
    const { ticketId } = await takeCall(service);
    const solved = await dispatcher().post(
      `/v1/tickets/${ticketId}/resolve-by-phone`,
      { answers: [{ code: 'thermostat_set_wrong', answer: 'yes' }], whatHelped: 'Set to cool.' },
      { ifMatch: '"v1"' },
    );
    expectStatus(solved, 200);
    expect((await dueOf(ticketId)).version).toBe(1);
  });

  it('and is still fine: nobody calls again', async () => {
    const { ticketId } = await solveCall(service);
    const made = await sendMade(await dueOf(ticketId), {
      outcome: 'still_fine',
      note: 'All well.',
    });
    expect(expectStatus(made, 200).body).toMatchObject({
      outcome: 'still_fine',
      note: 'All well.',
      madeAt: service.clock.now().toISOString(),
      nextTicketId: null,
    });
    await expect(dueOf(ticketId)).rejects.toThrow(ticketId);
    const twice = await sendMade({ ...made.body }, { outcome: 'back_again' });
    expectProblem(twice, 'not-allowed-now');
  });

  it('and nobody answers: it stays due, and is counted', async () => {
    const { ticketId } = await solveCall(service);
    const due = await dueOf(ticketId);
    const first = await sendMade(due, { outcome: 'not_reached' });
    expect(expectStatus(first, 200).body).toMatchObject({ tries: 1, outcome: null, madeAt: null });
    expectProblem(await sendMade(due, { outcome: 'not_reached' }), 'version-changed');
    await sendMade(await dueOf(ticketId), { outcome: 'not_reached' });
    expect(await dueOf(ticketId)).toMatchObject({ tries: 2 });
  });

  it('and is back again: a new ticket of the same trouble, linked', async () => {
    const { ticketId, siteId, customerId } = await solveCall(service);
    const made = await sendMade(await dueOf(ticketId), { outcome: 'back_again' });
    const { nextTicketId } = expectStatus(made, 200).body;
    const next = expectStatus(await dispatcher().get(`/v1/tickets/${nextTicketId}`), 200);
    expect(next.body).toMatchObject({
      siteId,
      callerId: customerId,
      complaint: 'It blows warm air.',
      symptoms: ['no_cooling'],
      state: 'new',
    });
    const old = expectStatus(await dispatcher().get(`/v1/tickets/${ticketId}`), 200);
    expect(old.body.state).toBe('resolved_by_phone');
  });

  it('is called once by two who call at once', async () => {
    const { ticketId } = await solveCall(service);
    const due = await dueOf(ticketId);
    const made = await Promise.all(
      Array.from({ length: 4 }, () => sendMade(due, { outcome: 'back_again' })),
    );
    expect(made.map(({ status }) => status).sort()).toEqual([200, 412, 412, 412]);
  });
});

it('who is due first stands first, page by page, and nobody is left out', async () => {
  const tickets: string[] = [];
  for (let hours = 0; hours < 3; hours += 1) {
    tickets.push((await solveCall(service)).ticketId);
    service.clock.advance(3_600_000);
  }
  const seen: string[] = [];
  let cursor: string | null = '';
  while (cursor !== null) {
    const page = await listDue(`?limit=2${cursor && `&cursor=${encodeURIComponent(cursor)}`}`);
    seen.push(...page.items.map(({ ticketId }) => ticketId));
    cursor = page.nextCursor;
  }
  expect(seen.filter((each) => tickets.includes(each))).toEqual(tickets);
  expect(new Set(seen).size).toBe(seen.length);
});

describe('what the phone told of a ticket', () => {
  const factsOf = async (ticketId: string) =>
    (await phoneFactsOf(service.db.prisma, [ticketId])).get(ticketId);

  it('is nothing where nobody was asked', async () => {
    const { ticketId } = await takeCall(service, { symptoms: ['noise'] });
    expect(await factsOf(ticketId)).toEqual({
      danger: null,
      vulnerable: null,
      indoorTempDegF: null,
      relativeHumidityPercent: null,
      hasCoolerPlace: null,
      waterSpreading: null,
      noCooling: false,
    });
  });

  it('is who suffers, how hot it is, and what spreads', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [
      ...noDanger,
      ['vulnerable', ['older_adult', 'oxygen_or_device']],
      ['indoor_temperature', 94.5],
      ['indoor_humidity', 60],
      ['cooler_place', 'no'],
      ['at_home', 'yes'],
      ['water_seen', 'spreading'],
    ]);
    expect(await factsOf(ticketId)).toEqual({
      danger: null,
      vulnerable: ['older_adult', 'oxygen_or_device'],
      indoorTempDegF: 94.5,
      relativeHumidityPercent: 60,
      hasCoolerPlace: false,
      waterSpreading: true,
      noCooling: true,
    });
    // A later dialogue says what it knows, and leaves the rest as it was.
    await sendToChecks(service, ticketId, 'end', { outcome: 'broken_off' });
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [
      ...noDanger,
      ['vulnerable', 'unknown'],
      ['indoor_temperature', 99],
    ]);
    expect(await factsOf(ticketId)).toMatchObject({
      vulnerable: ['older_adult', 'oxygen_or_device'],
      indoorTempDegF: 99,
      waterSpreading: true,
    });
  });

  it('is the danger until it is over', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [['gas_smell', 'yes']]);
    expect(await factsOf(ticketId)).toMatchObject({ danger: 'gas' });
    await sendToChecks(service, ticketId, 'danger-over', { note: 'The stove was open.' });
    expect(await factsOf(ticketId)).toMatchObject({ danger: null });
  });
});
