import { describe, expect, it } from 'vitest';
import { bookJob } from '../harness/job.ts';
import {
  answerAll,
  checksOf,
  checksTag,
  noDanger,
  phoneService,
  sendAnswer,
  sendBooking,
  sendToChecks,
  startChecks,
  takeCall,
  untilWaiting,
  waitingFor,
  whileHeld,
} from '../harness/phone-checks.ts';
import { expectProblem, expectStatus } from '../harness/test-service.ts';

const service = await phoneService();
const dispatcher = () => service.as('dispatcher');

const answersOf = async (ticketId: string): Promise<{ questionCode: string }[]> =>
  (await checksOf(service, ticketId)).checks[0].answers;

describe('two dispatchers at once', () => {
  it('begin one dialogue between them', async () => {
    const { ticketId } = await takeCall(service);
    const path = `/v1/tickets/${ticketId}/phone-checks`;
    const begun = await Promise.all(Array.from({ length: 5 }, () => dispatcher().post(path)));
    expect(begun.map(({ status }) => status).sort()).toEqual([201, 409, 409, 409, 409]);
  });

  it('end it once, so that a ticket is solved once and called back about once', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [...noDanger, ['vulnerable', 'none']]);
    const ifMatch = await checksTag(service, ticketId);
    const body = { outcome: 'solved', whatHelped: 'It started by itself.' };
    const path = `/v1/tickets/${ticketId}/phone-checks/end`;
    const ended = await Promise.all(
      Array.from({ length: 4 }, () => dispatcher().post(path, body, { ifMatch })),
    );
    expect(ended.map(({ status }) => status).sort()).toEqual([200, 412, 412, 412]);
    expect(await service.db.prisma.callBack.count({ where: { ticketId } })).toBe(1);
  });

  // Whichever comes first at the ticket is seen by the other, because both lock it.
  it('of whom one hears of gas and one books: nobody leaves for it, in twenty rounds', async () => {
    for (let round = 0; round < 20; round += 1) {
      const { ticketId } = await takeCall(service);
      const ifMatch = (await startChecks(service, ticketId)).headers['etag'] ?? '';
      const [told, booked] = await Promise.all([
        sendAnswer(service, ticketId, ['gas_smell', 'yes'], { ifMatch }),
        sendBooking(service, ticketId),
      ]);
      expectStatus(told, 200);
      if (booked.status === 409) {
        expectProblem(booked, 'not-allowed-now');
        continue;
      }
      const tag = expectStatus(booked, 201).headers['etag'] ?? '';
      const path = `/v1/visits/${booked.body.id}/start-travel`;
      const left = await service.as('technician').post(path, {}, { ifMatch: tag });
      expectProblem(left, 'not-allowed-now');
    }
  });
});

describe('a visit that is booked already', () => {
  it('is not left for while there is danger, and is once it is over', async () => {
    const job = await bookJob(service);
    await startChecks(service, job.ticketId);
    await answerAll(service, job.ticketId, [
      ['gas_smell', 'no'],
      ['carbon_monoxide', 'yes'],
    ]);
    const leave = () =>
      service
        .as('technician')
        .post(`/v1/visits/${job.visitId}/start-travel`, {}, { ifMatch: job.visitTag });
    expect(expectProblem(await leave(), 'not-allowed-now').body).toMatchObject({
      action: 'start_travel',
      danger: 'carbon_monoxide',
    });
    const note = 'The fire department measured, and let them in again.';
    expectStatus(await sendToChecks(service, job.ticketId, 'danger-over', { note }), 200);
    expectStatus(await leave(), 200);
  });

  it('is cancelled before its ticket is called solved', async () => {
    const job = await bookJob(service);
    await startChecks(service, job.ticketId);
    await answerAll(service, job.ticketId, noDanger);
    const body = { outcome: 'solved', whatHelped: 'It started by itself.' };
    const refused = await sendToChecks(service, job.ticketId, 'end', body);
    expect(expectProblem(refused, 'not-allowed-now').body.currentState).toBe('scheduled');
    const { outcome } = await service.db.prisma.phoneCheck.findFirstOrThrow({
      where: { ticketId: job.ticketId },
    });
    expect(outcome).toBeNull();
  });
});

describe('a connection that is killed in the middle of an answer', () => {
  it('loses nothing that was answered, leaves nothing half, and the same request goes through', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, noDanger.slice(0, 2));
    const ifMatch = await checksTag(service, ticketId);
    const path = `/v1/tickets/${ticketId}/phone-checks/answers`;
    const body = { questionCode: 'fire_or_electrical', answer: 'fire' };
    const send = () => dispatcher().post(path, body, { ifMatch, key: 'once-in-a-fire' });
    let sent: ReturnType<typeof send> | undefined;
    await whileHeld(service, 'ticket', ticketId, async () => {
      sent = send();
      await untilWaiting(service, 1);
      for (const pid of await waitingFor(service)) {
        await service.owner.query('SELECT pg_terminate_backend($1)', [pid]);
      }
      expect((await sent)?.status).toBeGreaterThanOrEqual(500);
      expect((await answersOf(ticketId)).map(({ questionCode }) => questionCode)).toEqual([
        'gas_smell',
        'carbon_monoxide',
      ]);
    });
    const again = expectStatus(await send(), 200);
    expect(again.body).toMatchObject({ outcome: 'danger', danger: { code: 'fire' } });
    expect((await send()).body).toEqual(again.body);
    expect(await answersOf(ticketId)).toHaveLength(3);
  });
});

describe('the journal of a dialogue', () => {
  it('tells every step, and of people nothing in the clear', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, noDanger);
    const note = 'her mother is ninety';
    await sendAnswer(service, ticketId, ['vulnerable', ['pregnant', 'ill']], { note });
    await answerAll(service, ticketId, [['indoor_temperature', 97.25]]);
    const end = { outcome: 'broken_off', note: 'her son hung up' };
    expectStatus(await sendToChecks(service, ticketId, 'end', end), 200);
    const { rows } = await service.owner.query<{ event: string; changes: string }>(
      `SELECT event, changes FROM journal_entry
       WHERE subject_id = (SELECT id::text FROM phone_check WHERE ticket_id = $1) ORDER BY id`,
      [ticketId],
    );
    const written = rows.map(({ changes }) => JSON.parse(changes));
    expect(rows.map(({ event }) => event)).toEqual([
      'phone_check.started',
      ...Array<string>(7).fill('phone_check.answered'),
      'phone_check.ended',
    ]);
    expect(written[0].after).toEqual({
      ...{ ticketId, run: 1, scriptVersion: 'phone-1', language: 'en', known: [] },
    });
    expect(written[1]).toEqual({
      after: { sequence: 1, questionCode: 'gas_smell', answer: 'no' },
      personalAfter: {},
    });
    expect(written[6]).toEqual({
      after: { sequence: 6, questionCode: 'vulnerable' },
      personalAfter: {
        answerOfPerson: expect.stringMatching(/^[0-9a-f]{64}$/),
        note: expect.stringMatching(/^[0-9a-f]{64}$/),
      },
    });
    expect(written[8]).toEqual({
      after: { outcome: 'broken_off' },
      personalAfter: { note: expect.stringMatching(/^[0-9a-f]{64}$/) },
    });
    const whole = JSON.stringify(rows);
    for (const personal of ['pregnant', 'ill"', 'ninety', '97.25', 'her son']) {
      expect(whole).not.toContain(personal);
    }
  });
});
