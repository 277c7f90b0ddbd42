import { describe, expect, it } from 'vitest';
import { addSite } from '../harness/job.ts';
import {
  allCalm,
  answerAll,
  checksOf,
  checksTag,
  noDanger,
  phoneService,
  sendAnswer,
  sendBooking,
  sendToChecks,
  solveCall,
  startChecks,
  takeCall,
  thermostatHelps,
  toTheBreaker,
} from '../harness/phone-checks.ts';
import { expectProblem, expectStatus } from '../harness/test-service.ts';

const service = await phoneService();
const dispatcher = () => service.as('dispatcher');
const ticketOf = async (ticketId: string) =>
  expectStatus(await dispatcher().get(`/v1/tickets/${ticketId}`), 200).body;
const observationsOf = async (ticketId: string) => {
  const rows = await service.db.prisma.observation.findMany({
    where: { ticketId },
    orderBy: { id: 'asc' },
  });
  return rows.map(({ code, answer, source, visitId }) => ({ code, answer, source, visitId }));
};
const reported = (code: string, answer: string) => ({
  ...{ code, answer },
  source: 'reported',
  visitId: null,
});

describe('a dialogue', () => {
  it('begins with the danger, and keeps the script it began with', async () => {
    const { ticketId } = await takeCall(service);
    const begun = await startChecks(service, ticketId);
    expect(begun.body).toMatchObject({
      run: 1,
      scriptVersion: 'phone-1',
      language: 'en',
      known: [],
      answers: [],
      outcome: null,
      danger: null,
      next: { kind: 'ask', question: { code: 'gas_smell', asks: 'yes_no' } },
    });
    expect(begun.headers['location']).toBe(`/v1/tickets/${ticketId}/phone-checks`);
  });

  it('is led in the caller’s language, or in the one that is asked for', async () => {
    const site = await addSite(service);
    await service.owner.query(`UPDATE customer SET language = 'es' WHERE id = $1`, [
      site.customerId,
    ]);
    const first = await takeCall(service, { site });
    const begun = await startChecks(service, first.ticketId);
    expect(begun.body.language).toBe('es');
    expect(begun.body.next.question.text).toMatch(/^¿Huele a gas/);
    const told = await answerAll(service, first.ticketId, [['gas_smell', 'no']]);
    expect(told.body.answers[0].answerText).toBe('No');
    const danger = await answerAll(service, first.ticketId, [['carbon_monoxide', 'yes']]);
    expect(danger.body.next).toMatchObject({ kind: 'danger', code: 'carbon_monoxide' });
    expect(danger.body.next.text).toMatch(/^Salgan todos/);
    const second = await takeCall(service, { site });
    const asked = await startChecks(service, second.ticketId, { language: 'en' });
    expect(asked.body.next.question.text).toMatch(/^Do you smell gas/);
  });

  it('knows from the records what need not be asked', async () => {
    const heating = await takeCall(service, { symptoms: ['no_heating'] });
    expect((await startChecks(service, heating.ticketId)).body.known).toEqual(['heating_only']);
    const trips = await takeCall(service, { symptoms: ['no_cooling', 'breaker_trips'] });
    expect((await startChecks(service, trips.ticketId)).body.known).toEqual(['breaker_trips']);
    const burns = await addSite(service, { outdoor: { nameplate: { refrigerant: 'R-454B' } } });
    const leak = await takeCall(service, { site: burns });
    await startChecks(service, leak.ticketId);
    const asked = await answerAll(service, leak.ticketId, noDanger);
    expect(asked.body).toMatchObject({
      known: ['refrigerant_may_burn'],
      next: { question: { code: 'hissing' } },
    });
  });

  it('keeps what the records said at its start, whatever is recorded later', async () => {
    const call = await takeCall(service);
    await startChecks(service, call.ticketId);
    await service.owner.query(`UPDATE equipment SET refrigerant = 'R-32' WHERE id = $1`, [
      call.outdoorId,
    ]);
    const asked = await answerAll(service, call.ticketId, noDanger);
    expect(asked.body).toMatchObject({ known: [], next: { question: { code: 'vulnerable' } } });
  });

  it('is begun once at a time', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    const path = `/v1/tickets/${ticketId}/phone-checks`;
    expectProblem(await dispatcher().post(path), 'already-exists');
    expectStatus(await sendToChecks(service, ticketId, 'end', { outcome: 'broken_off' }), 200);
    expect((await startChecks(service, ticketId)).body.run).toBe(2);
    expect(
      (await checksOf(service, ticketId)).checks.map(({ run }: { run: number }) => run),
    ).toEqual([2, 1]);
  });

  it('is begun only while somebody is on the phone about the ticket', async () => {
    const { ticketId } = await solveCall(service);
    const refused = await dispatcher().post(`/v1/tickets/${ticketId}/phone-checks`);
    expect(expectProblem(refused, 'not-allowed-now').body.currentState).toBe('resolved_by_phone');
    const late = await sendAnswer(service, ticketId, ['ice', 'yes']);
    expect(expectProblem(late, 'not-allowed-now').body.allowedActions).toEqual([]);
  });

  it('is read by the technician of the site, and by no other', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, noDanger);
    const path = `/v1/tickets/${ticketId}/phone-checks`;
    expectProblem(await service.as('technician').get(path), 'not-found');
    expectStatus(await sendBooking(service, ticketId), 201);
    const read = expectStatus(await service.as('technician').get(path), 200);
    expect(read.body.checks[0].answers).toHaveLength(5);
  });
});

describe('an answer', () => {
  it('is kept with its time and note, and brings the next question', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    const note = 'the neighbor says so too';
    const told = await sendAnswer(service, ticketId, ['gas_smell', 'no'], { note });
    expect(expectStatus(told, 200).body).toMatchObject({
      answers: [
        {
          sequence: 1,
          questionCode: 'gas_smell',
          answer: 'no',
          answeredAt: service.clock.now().toISOString(),
          note,
          counts: true,
        },
      ],
      next: { question: { code: 'carbon_monoxide' } },
    });
  });

  it('to a question that is not asked now is refused, and told which is', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [['gas_smell', 'no']]);
    const refused = await sendAnswer(service, ticketId, ['breaker_reset', 'cools']);
    expect(expectProblem(refused, 'not-allowed-now').body).toMatchObject({
      detail: 'That question is not asked now. The next one is carbon_monoxide.',
      currentState: 'asking',
      nextQuestion: 'carbon_monoxide',
      answeredQuestions: ['gas_smell'],
    });
  });

  it.each([
    ['a question the script does not have', ['shoe_size', 'yes'], 'unknown-reference'],
    ['what the records know', ['known', 'yes'], 'unknown-reference'],
    ['a word the question does not have', ['gas_smell', 'perhaps'], 'validation-failed'],
    ['a number where there is none', ['gas_smell', 7], 'validation-failed'],
  ] as const)('%s is refused', async (_, said, problem) => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    expectProblem(await sendAnswer(service, ticketId, said), problem);
    expect((await checksOf(service, ticketId)).checks[0].answers).toEqual([]);
  });

  it('is one of answer, answers and value', async () => {
    const { ticketId } = await takeCall(service);
    const ifMatch = (await startChecks(service, ticketId)).headers['etag'] ?? '';
    const path = `/v1/tickets/${ticketId}/phone-checks/answers`;
    for (const body of [{}, { answer: 'no', value: 1 }]) {
      const sent = await dispatcher().post(
        path,
        { questionCode: 'gas_smell', ...body },
        { ifMatch },
      );
      expectProblem(sent, 'validation-failed');
    }
  });

  it('needs phone checks that were begun', async () => {
    const { ticketId } = await takeCall(service);
    const refused = await sendAnswer(service, ticketId, ['gas_smell', 'no']);
    expect(expectProblem(refused, 'not-allowed-now').body.allowedActions).toEqual(['start']);
  });

  it('that is corrected stays on record, and the path is walked again', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [...allCalm, ['air', 'good']]);
    expect((await checksOf(service, ticketId)).checks[0].next.kind).toBe('done');
    const wet = await answerAll(service, ticketId, [['water_seen', 'in_pan']]);
    expect(wet.body.next.question.code).toBe('water_off');
    const counted = wet.body.answers.map((each: { questionCode: string; counts: boolean }) => [
      each.questionCode,
      each.counts,
    ]);
    expect(counted.slice(-4)).toEqual([
      ['water_seen', false],
      ['ice', true],
      ['air', false],
      ['water_seen', true],
    ]);
    const back = await answerAll(service, ticketId, [['water_seen', 'none']]);
    expect(back.body.next).toMatchObject({ kind: 'done', code: 'look_needed' });
  });

  it('of two who answer at once is taken once', async () => {
    const { ticketId } = await takeCall(service);
    const ifMatch = (await startChecks(service, ticketId)).headers['etag'] ?? '';
    const sent = await Promise.all(
      ['no', 'yes', 'unknown', 'no', 'yes'].map((answer) =>
        sendAnswer(service, ticketId, ['gas_smell', answer], { ifMatch }),
      ),
    );
    expect(sent.map(({ status }) => status).sort()).toEqual([200, 412, 412, 412, 412]);
    expect((await checksOf(service, ticketId)).checks[0].answers).toHaveLength(1);
  });

  it('is there after a service that died, and the dialogue goes on where it stood', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    const before = await answerAll(service, ticketId, noDanger);
    const again = await checksOf(service, ticketId);
    expect(again.checks[0]).toEqual(before.body);
    const on = await answerAll(service, ticketId, [['vulnerable', ['ill', 'small_child']]]);
    expect(on.body.answers.at(-1)).toMatchObject({
      answer: 'small_child,ill',
      answerText: 'Baby or small child, Ill',
    });
    expect(on.body.next.question.code).toBe('indoor_temperature');
  });
});

describe('danger', () => {
  it('stops everything with its instruction, and nobody is sent until it is over', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    const stopped = await answerAll(service, ticketId, [['gas_smell', 'yes']]);
    expect(stopped.body).toMatchObject({
      outcome: 'danger',
      next: { kind: 'danger', code: 'gas', callFirst: '911' },
      danger: { code: 'gas', overAt: null },
    });
    expect(stopped.body.next.text).toContain('everybody out of the house');
    expect((await ticketOf(ticketId)).state).toBe('new');
    expect((await checksOf(service, ticketId)).openDanger).toBe('gas');

    const next = await sendAnswer(service, ticketId, ['carbon_monoxide', 'no']);
    expect(expectProblem(next, 'not-allowed-now').body.allowedActions).toEqual([
      'record_danger_over',
    ]);
    const booked = expectProblem(await sendBooking(service, ticketId), 'not-allowed-now');
    expect(booked.body).toMatchObject({ action: 'book', danger: 'gas' });
    const again = await dispatcher().post(`/v1/tickets/${ticketId}/phone-checks`);
    expectProblem(again, 'not-allowed-now');
    const { version } = await ticketOf(ticketId);
    const solved = await dispatcher().post(
      `/v1/tickets/${ticketId}/resolve-by-phone`,
      { answers: [{ code: 'thermostat_set_wrong', answer: 'yes' }], whatHelped: 'Set to cool.' },
      { ifMatch: `"v${version}"` },
    );
    expectProblem(solved, 'not-allowed-now');

    const note = 'The gas company was there and found the stove open.';
    const over = await sendToChecks(service, ticketId, 'danger-over', { note });
    expect(expectStatus(over, 200).body).toMatchObject({
      next: null,
      danger: { code: 'gas', overNote: note, overAt: service.clock.now().toISOString() },
    });
    expect((await checksOf(service, ticketId)).openDanger).toBeNull();
    const twice = await sendToChecks(service, ticketId, 'danger-over', { note });
    expectProblem(twice, 'not-allowed-now');
    expect((await startChecks(service, ticketId)).body.run).toBe(2);
    expectStatus(await sendBooking(service, ticketId), 201);
  });

  it('that is cried out before its turn is taken at once', async () => {
    const { ticketId } = await takeCall(service);
    const begun = await startChecks(service, ticketId);
    const told = begun.body.dangerQuestions.map(({ code }: { code: string }) => code);
    expect(told).toEqual(noDanger.map(([code]) => code));
    // Only danger goes before its turn.
    const calm = await sendAnswer(service, ticketId, ['fire_or_electrical', 'no']);
    expectProblem(calm, 'not-allowed-now');
    const stopped = await answerAll(service, ticketId, [['fire_or_electrical', 'fire']]);
    expect(stopped.body).toMatchObject({
      outcome: 'danger',
      answers: [{ questionCode: 'fire_or_electrical', counts: true }],
      next: { kind: 'danger', code: 'fire', callFirst: '911' },
      danger: { code: 'fire', overAt: null },
      dangerQuestions: [],
    });
  });

  it('that shows at the breaker box stops it too, and what was told before is kept', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, toTheBreaker.slice(0, -2));
    const stopped = await answerAll(service, ticketId, [['breaker_box_signs', 'yes']]);
    expect(stopped.body.danger.code).toBe('breaker_box');
    expect(await observationsOf(ticketId)).toContainEqual(reported('outdoor_fan_running', 'no'));
  });

  it('is recorded by the database alone as the end: nothing is answered after it', async () => {
    const { ticketId } = await takeCall(service);
    const begun = await startChecks(service, ticketId);
    await answerAll(service, ticketId, [['gas_smell', 'yes']]);
    const insert = service.owner.query(
      `INSERT INTO phone_answer (phone_check_id, sequence, question_code, answer, answered_at,
         recorded_by_id) VALUES ($1, 9, 'ice', 'no', now(), $2)`,
      [begun.body.id, service.staff.dispatcher.id],
    );
    await expect(insert).rejects.toThrow(/phone_answer_before_the_end/);
  });
});

describe('solved by phone', () => {
  it('ends the ticket at no charge, keeps what was told, and promises a call back in a day', async () => {
    const { ticketId, customerId } = await takeCall(service);
    await startChecks(service, ticketId);
    const done = await answerAll(service, ticketId, thermostatHelps);
    expect(done.body.next).toMatchObject({ kind: 'done', code: 'solved', outcome: 'solved' });
    const body = { outcome: 'solved', whatHelped: 'Set to cool.' };
    const ended = expectStatus(await sendToChecks(service, ticketId, 'end', body), 200);
    expect(ended.body).toMatchObject({ outcome: 'solved', next: { code: 'solved' } });
    const ticket = await ticketOf(ticketId);
    expect(ticket).toMatchObject({ state: 'resolved_by_phone', closingNote: 'Set to cool.' });
    expect(await observationsOf(ticketId)).toEqual([
      reported('ice_on_coil_or_line', 'no'),
      reported('indoor_fan_running', 'yes'),
      reported('blows_warm_in_cooling', 'yes'),
      reported('thermostat_screen_blank', 'no'),
      reported('thermostat_set_wrong', 'yes'),
      reported('thermostat_starts_when_set', 'yes'),
    ]);
    const due = await service.db.prisma.callBack.findUniqueOrThrow({ where: { ticketId } });
    expect(due.dueAt.getTime() - service.clock.now().getTime()).toBe(24 * 3_600_000);
    const invoices = await dispatcher().get(`/v1/invoices?ticketId=${ticketId}`);
    expect(expectStatus(invoices, 200).body.items).toEqual([]);
    expect(customerId).toBeDefined();
  });

  it('in the middle, where it starts by itself', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, allCalm);
    const body = { outcome: 'solved', whatHelped: 'It started by itself.' };
    const ended = expectStatus(await sendToChecks(service, ticketId, 'end', body), 200);
    expect(ended.body.next).toBeNull();
    expect((await ticketOf(ticketId)).state).toBe('resolved_by_phone');
  });

  it.each([
    ['before every danger was asked of', noDanger.slice(0, 2)],
    ['where nobody can tell of a danger', [['gas_smell', 'unknown'], ...noDanger.slice(1)]],
    ['where the breaker tripped again', [...toTheBreaker, ['breaker_reset', 'trips']]],
    ['in the middle while water spreads', [...allCalm.slice(0, -2), ['water_seen', 'spreading']]],
    [
      'in the middle while there is water in the pan',
      [...allCalm.slice(0, -2), ['water_seen', 'in_pan']],
    ],
    ['in the middle where there is ice', [...allCalm.slice(0, -1), ['ice', 'yes']]],
    ['where a technician has to look', [...allCalm, ['air', 'good']]],
  ] as [string, Parameters<typeof answerAll>[2]][])('never %s', async (_, answers) => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, answers);
    const body = { outcome: 'solved', whatHelped: 'So they say.' };
    const refused = await sendToChecks(service, ticketId, 'end', body);
    expect(expectProblem(refused, 'not-allowed-now').body.allowedOutcomes).not.toContain('solved');
    expect((await ticketOf(ticketId)).state).toBe('new');
  });
});

describe('not solved', () => {
  it('leaves the answers as the first observations of the visit, as reported', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, [...toTheBreaker, ['breaker_reset', 'trips']]);
    const ended = await sendToChecks(service, ticketId, 'end', { outcome: 'not_solved' });
    expect(expectStatus(ended, 200).body).toMatchObject({
      outcome: 'not_solved',
      next: { code: 'breaker_stays_off' },
    });
    expect(await observationsOf(ticketId)).toEqual(
      expect.arrayContaining([
        reported('breaker_found_tripped', 'yes'),
        reported('breaker_trips_again', 'yes'),
        reported('outdoor_fan_hums', 'no'),
      ]),
    );
    const visit = expectStatus(await sendBooking(service, ticketId), 201).body;
    const path = `/v1/visits/${visit.id}/evidence`;
    const { observations } = expectStatus(await service.as('technician').get(path), 200).body;
    expect(observations).toContainEqual(
      expect.objectContaining({ ...reported('breaker_trips_again', 'yes') }),
    );
  });

  it('is not said before the script has come to its end', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, noDanger);
    const refused = await sendToChecks(service, ticketId, 'end', { outcome: 'not_solved' });
    expect(expectProblem(refused, 'not-allowed-now').body).toMatchObject({
      allowedOutcomes: ['solved', 'broken_off'],
    });
  });

  it('whoever hangs up leaves what was told', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, allCalm);
    const ended = await sendToChecks(service, ticketId, 'end', { outcome: 'broken_off' });
    expect(expectStatus(ended, 200).body).toMatchObject({ outcome: 'broken_off', next: null });
    expect(await observationsOf(ticketId)).toEqual([reported('ice_on_coil_or_line', 'no')]);
    expect(ended.body.endNote).toBeNull();
    const twice = await sendToChecks(service, ticketId, 'end', { outcome: 'broken_off' });
    expectProblem(twice, 'not-allowed-now');
  });
});

describe('a note on how it ended', () => {
  const note = 'Her battery died. She calls again at five.';

  it.each<[string, Parameters<typeof answerAll>[2], string]>([
    ['broken off', noDanger, 'broken_off'],
    ['not solved', [...allCalm, ['air', 'good']], 'not_solved'],
  ])('is kept with an end that is %s, and read with it', async (_, answers, outcome) => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    await answerAll(service, ticketId, answers);
    const ended = expectStatus(
      await sendToChecks(service, ticketId, 'end', { outcome, note }),
      200,
    );
    expect(ended.body).toMatchObject({ outcome, endNote: note });
    expect((await checksOf(service, ticketId)).checks[0]).toEqual(ended.body);
  });

  it('is one of the known ends', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    for (const end of [{}, { outcome: 'danger' }]) {
      const refused = await sendToChecks(service, ticketId, 'end', end);
      expect(expectProblem(refused, 'validation-failed').body.errors).toMatchObject([
        { pointer: '/outcome', message: 'must be one of solved, not_solved, broken_off' },
      ]);
    }
  });

  it('is short, says something, and has no place beside what helped', async () => {
    const { ticketId } = await takeCall(service);
    await startChecks(service, ticketId);
    for (const end of [
      { outcome: 'broken_off', note: 'x'.repeat(501) },
      { outcome: 'broken_off', note: ' ' },
      { outcome: 'solved', whatHelped: 'Set to cool.', note },
    ]) {
      expectProblem(await sendToChecks(service, ticketId, 'end', end), 'validation-failed');
    }
    const longest = { outcome: 'broken_off', note: 'x'.repeat(500) };
    expectStatus(await sendToChecks(service, ticketId, 'end', longest), 200);
  });
});

it('the tag changes with every step, and a stale one is refused', async () => {
  const { ticketId } = await takeCall(service);
  const tags = [await checksTag(service, ticketId)];
  await startChecks(service, ticketId);
  tags.push(await checksTag(service, ticketId));
  await answerAll(service, ticketId, [['gas_smell', 'yes']]);
  tags.push(await checksTag(service, ticketId));
  await sendToChecks(service, ticketId, 'danger-over', { note: 'It was the stove.' });
  tags.push(await checksTag(service, ticketId));
  await startChecks(service, ticketId);
  tags.push(await checksTag(service, ticketId));
  expect(new Set(tags).size).toBe(5);
  for (const ifMatch of tags.slice(0, -1)) {
    const refused = await sendAnswer(service, ticketId, ['gas_smell', 'no'], { ifMatch });
    expectProblem(refused, 'version-changed');
  }
});
