import { describe, expect, it } from 'vitest';
import {
  answerAll,
  type Call,
  checksOf,
  checksTag,
  phoneService,
  type Said,
  sendAnswer,
  sendToChecks,
  startChecks,
  takeCall,
  toTheBreaker,
  untilWaiting,
  whileHeld,
} from '../harness/phone-checks.ts';
import { expectProblem, expectStatus } from '../harness/test-service.ts';

const service = await phoneService();
const dispatcher = () => service.as('dispatcher');
const latestOf = async (ticketId: string) => (await checksOf(service, ticketId)).checks[0];

const staysOff = { kind: 'done', code: 'breaker_stays_off', outcome: 'not_solved' };
const asksForReset = { kind: 'ask', question: { code: 'breaker_reset', resetsBreaker: true } };

describe('a breaker is reset by phone once', () => {
  it('in a dialogue: the answer may be corrected, the question does not come back', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    const asked = await answerAll(service, ticketId, toTheBreaker);
    expect(asked.body.next.question).toMatchObject({ code: 'breaker_reset', resetsBreaker: true });
    await answerAll(service, ticketId, [['breaker_reset', 'holds']]);
    await answerAll(service, ticketId, [['breaker', 'in_line']]);
    const back = await answerAll(service, ticketId, [['breaker', 'tripped']]);
    expect(back.body.next).toMatchObject({ kind: 'done', code: 'look_needed' });
  });

  it('at a site: neither the next dialogue nor the next ticket asks for another', async () => {
    const call = await takeCall(service);
    await startChecks(service, call.ticketId);
    await answerAll(service, call.ticketId, [...toTheBreaker, ['breaker_reset', 'holds']]);
    await sendToChecks(service, call.ticketId, 'end', { outcome: 'not_solved' });
    for (const ticketId of [call.ticketId, (await takeCall(service, { site: call })).ticketId]) {
      const begun = await startChecks(service, ticketId);
      expect(begun.body.known).toEqual(['reset_before']);
      const stays = await answerAll(service, ticketId, toTheBreaker);
      expect(stays.body.next).toMatchObject({ kind: 'done', code: 'breaker_stays_off' });
    }
  });
});

describe('what came of a reset', () => {
  it.each<[string, Parameters<typeof answerAll>[2], [string, string]]>([
    ['a trip is not cool air', [['breaker_reset', 'trips']], ['breaker_reset', 'cools']],
    ['a trip is not unknown', [['breaker_reset', 'trips']], ['breaker_reset', 'unknown']],
    [
      'a breaker that holds does not cool',
      [['breaker_reset', 'holds']],
      ['breaker_reset', 'cools'],
    ],
    ['a trip is not gone round', [['breaker_reset', 'trips']], ['thermostat_settings', 'no']],
    ['nor is that of somebody else', [['breaker', 'tripped_again']], ['breaker', 'tripped']],
  ])('is never corrected to something better: %s', async (_, told, better) => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    const before = await answerAll(service, ticketId, [...toTheBreaker, ...told]);
    expectProblem(await sendAnswer(service, ticketId, better), 'not-allowed-now');
    expect((await checksOf(service, ticketId)).checks[0]).toEqual(before.body);
  });

  it('stays told while it gets hotter, which may be told', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [...toTheBreaker, ['breaker_reset', 'trips']]);
    const hotter = await answerAll(service, ticketId, [['indoor_temperature', 92]]);
    expect(hotter.body.next.question.code).toBe('indoor_humidity');
    const body = { outcome: 'solved', whatHelped: 'So they say.' };
    const solved = await sendToChecks(service, ticketId, 'end', body);
    expect(expectProblem(solved, 'not-allowed-now').body.allowedOutcomes).toEqual(['broken_off']);
    const better = await sendAnswer(service, ticketId, ['breaker_reset', 'cools']);
    expectProblem(better, 'not-allowed-now');
    const after = await answerAll(service, ticketId, [['indoor_humidity', 'unknown']]);
    expect(after.body.next).toMatchObject(staysOff);
    expectProblem(
      await sendAnswer(service, ticketId, ['thermostat_settings', 'no']),
      'not-allowed-now',
    );
  });

  it('may be corrected to something worse, and never hides a danger', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [...toTheBreaker, ['breaker_reset', 'cools']]);
    const worse = await answerAll(service, ticketId, [['breaker_reset', 'trips']]);
    expect(worse.body.next).toMatchObject({ kind: 'done', code: 'breaker_stays_off' });
    const stopped = await answerAll(service, ticketId, [['breaker_box_signs', 'yes']]);
    expect(stopped.body.danger.code).toBe('breaker_box');
  });
});

describe('a breaker counts as reset from when it was asked for', () => {
  const wasReset = async (answers: Parameters<typeof answerAll>[2], end?: object) => {
    const call = await takeCall(service);
    await startChecks(service, call.ticketId);
    await answerAll(service, call.ticketId, answers);
    if (end !== undefined) {
      expectStatus(await sendToChecks(service, call.ticketId, 'end', end), 200);
    }
    const next = await takeCall(service, { site: call });
    return (await startChecks(service, next.ticketId)).body.known;
  };

  it.each<[string, Parameters<typeof answerAll>[2], object | undefined, string[]]>([
    ['whoever hung up at it', toTheBreaker, { outcome: 'broken_off' }, ['reset_before']],
    ['whoever is still at it', toTheBreaker, undefined, ['reset_before']],
    [
      'whoever went back from it and hung up',
      [...toTheBreaker, ['breaker', 'in_line']],
      undefined,
      ['reset_before'],
    ],
    [
      'whoever said that somebody else had reset it',
      [...toTheBreaker.slice(0, -1), ['breaker', 'tripped_again']],
      { outcome: 'not_solved' },
      ['reset_before'],
    ],
    [
      'not whoever would rather not',
      [...toTheBreaker, ['breaker_reset', 'unknown']],
      { outcome: 'not_solved' },
      [],
    ],
    ['not whoever never came to it', toTheBreaker.slice(0, -1), { outcome: 'broken_off' }, []],
  ])('%s', async (_, answers, end, known) => {
    expect(await wasReset(answers, end)).toEqual(known);
  });
});

/** Two tickets of one site whose dialogues were begun before any reset, and stand before the breaker. */
async function twoAtTheBreaker(): Promise<[Call, Call]> {
  const first = await takeCall(service);
  const second = await takeCall(service, { site: first });
  for (const { ticketId } of [first, second]) {
    expect((await startChecks(service, ticketId)).body.known).toEqual([]);
    await answerAll(service, ticketId, toTheBreaker.slice(0, -1));
  }
  return [first, second];
}

const say = async ({ ticketId }: Call, ...said: [string, Said]) =>
  (await answerAll(service, ticketId, [said])).body;

describe('two tickets of one site, both begun before any reset', () => {
  it.each([
    ['older', 0],
    ['newer', 1],
  ] as const)('ask for one between them: the %s comes to the breaker first', async (_, first) => {
    const calls = await twoAtTheBreaker();
    const [asked, other] = first === 0 ? calls : [calls[1], calls[0]];
    expect((await say(asked, 'breaker', 'tripped')).next).toMatchObject(asksForReset);
    const late = await say(other, 'breaker', 'tripped');
    expect(late).toMatchObject({ known: ['reset_before'], next: staysOff });
    expect(await latestOf(other.ticketId)).toEqual(late);
    // The one that was asked goes on as it was.
    expect(await latestOf(asked.ticketId)).toMatchObject({ known: [], next: asksForReset });
    expect((await say(asked, 'breaker_reset', 'cools')).next.code).toBe('solved_by_breaker');
  });

  it('that come to it at once: one is asked, in every round', async () => {
    for (let round = 0; round < 4; round += 1) {
      const calls = await twoAtTheBreaker();
      let told: ReturnType<typeof say>[] = [];
      await whileHeld(service, 'site', calls[0].siteId, async () => {
        told = calls.map((call) => say(call, 'breaker', 'tripped'));
        await untilWaiting(service, 2);
      });
      const kinds = (await Promise.all(told)).map(({ next }) => next.kind);
      expect(kinds.sort()).toEqual(['ask', 'done']);
    }
  });

  it('ask for none once one of them tells that it tripped again, also where one was shown', async () => {
    const [shown, other] = await twoAtTheBreaker();
    await say(shown, 'breaker', 'tripped');
    const before = await checksTag(service, shown.ticketId);
    await say(other, 'breaker', 'tripped_again');
    expect(await latestOf(shown.ticketId)).toMatchObject({
      known: ['reset_before'],
      next: staysOff,
    });
    const cools = ['breaker_reset', 'cools'] as const;
    const stale = await sendAnswer(service, shown.ticketId, cools, { ifMatch: before });
    expectProblem(stale, 'version-changed');
    const refused = await sendAnswer(service, shown.ticketId, cools);
    expect(expectProblem(refused, 'not-allowed-now').body.detail).toBe(
      'A breaker here was reset by phone before, or tripped again: it stays off.',
    );
    const ended = await sendToChecks(service, shown.ticketId, 'end', { outcome: 'not_solved' });
    expect(expectStatus(ended, 200).body).toMatchObject({
      known: ['reset_before'],
      outcome: 'not_solved',
      next: staysOff,
    });
    expect(await latestOf(shown.ticketId)).toEqual(ended.body);
  });

  it('where one told that it cools: that is not solved when the other tells that it tripped', async () => {
    const [cool, other] = await twoAtTheBreaker();
    await say(cool, 'breaker', 'tripped');
    await say(cool, 'breaker_reset', 'cools');
    await say(other, 'breaker', 'tripped_again');
    const body = { outcome: 'solved', whatHelped: 'The breaker was reset.' };
    const refused = await sendToChecks(service, cool.ticketId, 'end', body);
    expect(expectProblem(refused, 'not-allowed-now').body.allowedOutcomes).toEqual(['not_solved']);
  });

  it('where one would rather not, and did it after all once the other was asked', async () => {
    const [unwilling, other] = await twoAtTheBreaker();
    await say(unwilling, 'breaker', 'tripped');
    await say(unwilling, 'breaker_reset', 'unknown');
    const before = await checksTag(service, unwilling.ticketId);
    expect((await say(other, 'breaker', 'tripped')).next).toMatchObject(asksForReset);
    const cools = ['breaker_reset', 'cools'] as const;
    const stale = await sendAnswer(service, unwilling.ticketId, cools, { ifMatch: before });
    expectProblem(stale, 'version-changed');
    expectProblem(await sendAnswer(service, unwilling.ticketId, cools), 'not-allowed-now');
    expect((await latestOf(unwilling.ticketId)).next).toMatchObject(staysOff);
  });

  it('where one did it after all and the other comes to it at once: one of them, in every round', async () => {
    for (let round = 0; round < 4; round += 1) {
      const [unwilling, other] = await twoAtTheBreaker();
      await say(unwilling, 'breaker', 'tripped');
      await say(unwilling, 'breaker_reset', 'unknown');
      const ifMatch = await checksTag(service, unwilling.ticketId);
      const cools = ['breaker_reset', 'cools'] as const;
      let told: ReturnType<typeof sendAnswer>[] = [];
      await whileHeld(service, 'site', other.siteId, async () => {
        told = [
          sendAnswer(service, unwilling.ticketId, cools, { ifMatch }),
          sendAnswer(service, other.ticketId, ['breaker', 'tripped']),
        ];
        await untilWaiting(service, 2);
      });
      const [did, asked] = await Promise.all(told);
      expect(did?.status).toBe(asked?.body.next.kind === 'ask' ? 412 : 200);
    }
  });
});

describe('a ticket that was solved by phone without the dialogue', () => {
  it.each([
    ['what had tripped was put back', { code: 'breaker_found_tripped', answer: 'yes' }],
    ['it does not trip again', { code: 'breaker_trips_again', answer: 'no' }],
  ])('counts as a reset where %s', async (_, answer) => {
    const { ticketId, ...site } = await takeCall(service);
    const body = { answers: [answer], whatHelped: 'It was put back on.' };
    const path = `/v1/tickets/${ticketId}/resolve-by-phone`;
    expectStatus(await dispatcher().post(path, body, { ifMatch: '"v1"' }), 200);
    const next = await takeCall(service, { site });
    expect((await startChecks(service, next.ticketId)).body.known).toEqual(['reset_before']);
  });

  it('counts as none where the breaker was in line', async () => {
    const { ticketId, ...site } = await takeCall(service);
    const answer = { code: 'breaker_found_tripped', answer: 'no' };
    const body = { answers: [answer], whatHelped: 'Set to cool.' };
    const path = `/v1/tickets/${ticketId}/resolve-by-phone`;
    expectStatus(await dispatcher().post(path, body, { ifMatch: '"v1"' }), 200);
    const next = await takeCall(service, { site });
    expect((await startChecks(service, next.ticketId)).body.known).toEqual([]);
  });
});

describe('a correction that is refused', () => {
  it('is refused before anything is written', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [...toTheBreaker, ['breaker_reset', 'trips']]);
    // A sequence counts on where a transaction is rolled back, so it tells of rows that are gone.
    await service.owner.query(`
      CREATE SEQUENCE rows_tried;
      CREATE FUNCTION count_try() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER
        SET search_path = public AS 'BEGIN PERFORM nextval(''rows_tried''); RETURN NEW; END';
      CREATE TRIGGER count_answer BEFORE INSERT ON phone_answer
        FOR EACH ROW EXECUTE FUNCTION count_try();
      CREATE TRIGGER count_entry BEFORE INSERT ON journal_entry
        FOR EACH ROW EXECUTE FUNCTION count_try()`);
    const tried = async () => {
      const { rows } = await service.owner.query(
        'SELECT CASE WHEN is_called THEN last_value ELSE 0 END::int AS count FROM rows_tried',
      );
      return rows[0].count;
    };
    const refused = await sendAnswer(service, ticketId, ['breaker_reset', 'cools']);
    expectProblem(refused, 'not-allowed-now');
    expect(await tried()).toBe(0);
    // An answer that is taken is seen there, with its entry.
    await answerAll(service, ticketId, [['indoor_temperature', 76]]);
    expect(await tried()).toBe(2);
  });
});

it('a reset counts for as long as the same trouble is a callback', async () => {
  const call = await takeCall(service);
  await startChecks(service, call.ticketId);
  await answerAll(service, call.ticketId, toTheBreaker);
  const knownAfter = async (days: number) => {
    service.clock.advance(days * 86_400_000);
    const { ticketId } = await takeCall(service, { site: call });
    return (await startChecks(service, ticketId)).body.known;
  };
  expect(await knownAfter(30)).toEqual(['reset_before']);
  expect(await knownAfter(1)).toEqual([]);
});
