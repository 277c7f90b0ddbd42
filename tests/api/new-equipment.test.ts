import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { assertReprices } from '../harness/assert-reprices.ts';
import { findCompressor, findOutdoorUnit, proveGroundedCompressor } from '../harness/compressor.ts';
import {
  addSite,
  arriveAtJob,
  type Job,
  outdoorPlate,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
import { tagged } from '../harness/tagged.ts';
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
afterAll(async () => {
  await assertReprices(service);
  await service.close();
});

describe('a new outdoor unit', () => {
  it('is found by proof alone: a doubtful reading gives it no price', async () => {
    const job = await arriveAtJob(service);
    const id = await findOutdoorUnit(service, job);
    const { body } = await service.as('technician').get(`/v1/visits/${job.visitId}/findings`);
    expect(body.items).toEqual([expect.objectContaining({ id, priceable: false })]);
    expectProblem(
      await draft(job, [[await findCompressor(service, job)], [id]]),
      'evidence-missing',
    );
  });

  it('that asks for another indoor coil does not fit, and is refused in these words', async () => {
    const job = await provenJob();
    const refused = await find(job, { parts: [{ partCode: 'OUT-454B-36', quantity: 1 }] });
    expect(expectProblem(refused, 'does-not-fit').body.detail).toBe(
      'It is made for R-454B, the nameplate says R-410A: another refrigerant needs the indoor coil that matches, and the old one stays.',
    );
  });

  it('of another size does not fit either', async () => {
    const job = await provenJob({ ...outdoorPlate, tons: 4 });
    const refused = await find(job, { parts: [{ partCode: 'OUT-410A-36', quantity: 1 }] });
    expect(expectProblem(refused, 'does-not-fit').body.detail).toContain('It has 3 tons');
  });

  it('does not stand in for a package unit, which is all in one', async () => {
    const site = await addSite(service, { outdoor: { kind: 'package_unit' } });
    const job = await arriveAtJob(service, site);
    const refused = await find(job, { parts: [{ partCode: 'OUT-410A-36', quantity: 1 }] });
    expect(expectProblem(refused, 'does-not-fit').body).toMatchObject({
      detail: 'That task is not done on a package unit.',
      allowedTasks: ['replace_compressor'],
    });
  });

  it('is taxed as equipment', async () => {
    const { body } = await service.as('technician').get('/v1/parts?category=outdoor_unit');
    expect(body.items.length).toBeGreaterThan(0);
    for (const part of body.items) expect(part.fit.category).toBe('outdoor_unit');
    const { rows } = await service.owner.query<{ tax_class: string }>(
      "SELECT DISTINCT tax_class FROM price_book_part WHERE category = 'outdoor_unit'",
    );
    expect(rows).toEqual([{ tax_class: 'equipment' }]);
  });
});

describe('the repair stands first', () => {
  it('a new machine alone is refused, and so is one that is offered before the repair', async () => {
    const { job, compressor, unit } = await bothFound();
    for (const [options, at] of [
      [[[unit]], 0],
      [[[unit], [compressor]], 0],
      [[[], [unit]], 1],
    ] as const) {
      const refused = expectProblem(await draft(job, options), 'price-refused');
      expect(refused.body.errors).toEqual([
        expect.objectContaining({ pointer: `/options/${at}/findingIds`, code: 'repair_first' }),
      ]);
      expect(refused.body.detail).toMatch(/^Repair first/);
    }
  });

  it('beside the repair it is offered', async () => {
    const { job, compressor, unit } = await bothFound();
    const { body } = expectStatus(await draft(job, [[compressor], [unit]]), 201);
    expect(body.options).toHaveLength(2);
  });

  it('the repair of another fault is not the repair of this one', async () => {
    const { job, unit } = await bothFound();
    const { body } = expectStatus(
      await service.as('technician').post(`/v1/visits/${job.visitId}/observations`, {
        observations: [
          { equipmentId: job.outdoorId, code: 'breaker_found_tripped', answer: 'yes' },
        ],
      }),
      201,
    );
    expect(body).toBeDefined();
    const reset = expectStatus(
      await find(job, { faultCode: 'tripped_breaker', taskCode: 'reset_breaker', parts: [] }),
      201,
    ).body.id;
    const refused = expectProblem(await draft(job, [[reset], [unit]]), 'price-refused');
    expect(refused.body.errors[0]).toMatchObject({ code: 'repair_first' });
  });

  it('and a revision is held to it too', async () => {
    const { quote, unit } = await drafted();
    const revised = await as('technician', quote, 'revise', {
      options: [{ title: 'New machine', findingIds: [unit] }],
    });
    expect(expectProblem(revised, 'price-refused').body.errors[0]).toMatchObject({
      code: 'repair_first',
    });
  });
});

describe('the owner confirms the refrigerant rules in force', () => {
  it('before a quote with a new machine is issued, not after, whoever issues it', async () => {
    const { quote } = await drafted();
    for (const who of ['technician', 'owner'] as const) {
      const refused = expectProblem(await as(who, quote, 'issue'), 'owner-confirmation-needed');
      expect(refused.body).toMatchObject({ status: 409, revision: 1 });
      for (const words of [
        'R-410A',
        'installed here today',
        'certified technician',
        'indoor coil',
      ]) {
        expect(refused.body.statement).toContain(words);
      }
    }
    expect((await read(quote)).body.state).toBe('draft');
    await confirm(quote);
    const issued = expectStatus(await as('technician', quote, 'issue'), 200);
    expect(issued.body.state).toBe('issued');
    expectStatus(await as('technician', tagged(issued), 'accept', yesTo(tagged(issued))), 200);
  });

  it('in the words of this revision, which name its unit; other words confirm nothing', async () => {
    const { quote } = await drafted();
    const refused = await confirmWith(quote, 'All fine.');
    const { statement } = expectProblem(refused, 'owner-confirmation-needed').body;
    expect(statement).toContain('Outdoor unit 3 tons, R-410A');
    expectProblem(await as('technician', quote, 'issue'), 'owner-confirmation-needed');
    expectStatus(await confirmWith(quote, statement), 200);
  });

  it('and nobody else does', async () => {
    const { quote } = await drafted();
    const { statement } = await newEquipment(quote);
    for (const who of ['technician', 'dispatcher'] as const) {
      expectProblem(await as(who, quote, 'confirm-refrigerant-rules', { statement }), 'forbidden');
    }
  });

  it('for one revision: the next asks again', async () => {
    const { quote, compressor, unit } = await drafted();
    await confirm(quote);
    const revised = tagged(
      expectStatus(
        await as('technician', quote, 'revise', { options: optionsOf([[compressor], [unit]]) }),
        200,
      ),
    );
    expectProblem(await as('technician', revised, 'issue'), 'owner-confirmation-needed');
    await confirm(revised);
    expectStatus(await as('technician', revised, 'issue'), 200);
  });

  it('once, while it is a draft, with the version that was read, and only for a new machine', async () => {
    const { quote, job, compressor } = await drafted();
    const { statement } = await newEquipment(quote);
    const stale = { ...quote, tag: '"999"' };
    expectProblem(await confirmWith(stale, statement), 'version-changed');
    await confirm(quote);
    expectProblem(await confirmWith(quote, statement), 'already-exists');
    const issued = tagged(expectStatus(await as('technician', quote, 'issue'), 200));
    expect(
      expectProblem(await confirmWith(issued, statement), 'not-allowed-now').body,
    ).toMatchObject({ currentState: 'issued', allowedActions: [] });
    const plain = tagged(expectStatus(await draft(job, [[compressor]]), 201));
    expectProblem(await confirmWith(plain, statement), 'not-allowed-now');
    expect(await newEquipment(plain)).toBeNull();
    expectStatus(await as('technician', plain, 'issue'), 200);
  });

  it('on record: who, when, which words', async () => {
    const { quote } = await drafted();
    const { statement } = await newEquipment(quote);
    const confirmed = expectStatus(await confirmWith(quote, statement), 200);
    const kept = {
      revision: 1,
      kind: 'refrigerant_rules',
      statement,
      confirmedAt: service.clock.now().toISOString(),
      confirmedById: service.staff.owner.id,
    };
    expect(confirmed.body).toEqual(kept);
    expect((await newEquipment(quote)).confirmation).toEqual(kept);
    const { body } = await service.as('owner').get(`/v1/journal?subjectId=${quote.body.id}`);
    expect(body.items.map(({ event }: { event: string }) => event)).toContain('quote.confirmed');
  });

  it('reading beforehand what to look up, with the days of the rule left open', async () => {
    const { quote } = await drafted();
    const { checks, confirmation } = await newEquipment(quote);
    expect(confirmation).toBeNull();
    expect(checks.map(({ code }: { code: string }) => code)).toEqual([
      'refrigerant',
      'dates',
      'match',
      'recovery',
      'local',
    ]);
    for (const check of checks) expect(check.standing).toBe('to_be_confirmed_by_the_owner');
  });
});

async function provenJob(nameplate: object = outdoorPlate): Promise<Job> {
  const job = await arriveAtJob(service, await addSite(service, { outdoor: { nameplate } }));
  await proveGroundedCompressor(service, job);
  return job;
}

async function bothFound() {
  const job = await provenJob();
  const compressor = await findCompressor(service, job);
  return { job, compressor, unit: await findOutdoorUnit(service, job) };
}

async function drafted() {
  const found = await bothFound();
  const answer = expectStatus(await draft(found.job, [[found.compressor], [found.unit]]), 201);
  return { ...found, quote: tagged(answer) };
}

function find(job: Job, change: object) {
  return service.as('technician').post(`/v1/visits/${job.visitId}/findings`, {
    equipmentId: job.outdoorId,
    faultCode: 'compressor_grounded',
    taskCode: 'replace_outdoor_unit',
    ...change,
  });
}

function optionsOf(findingIds: readonly (readonly string[])[]) {
  return findingIds.map((ids, at) => ({ title: `Option ${at + 1}`, findingIds: ids }));
}

function draft({ visitId }: Job, findingIds: readonly (readonly string[])[]) {
  return service.as('technician').post('/v1/quotes', { visitId, options: optionsOf(findingIds) });
}

function as(
  who: 'technician' | 'dispatcher' | 'owner',
  quote: QuoteAt,
  verb: string,
  body: object = {},
) {
  return service.as(who).post(`/v1/quotes/${quote.body.id}/${verb}`, body, { ifMatch: quote.tag });
}

function read(quote: QuoteAt) {
  return service.as('technician').get(`/v1/quotes/${quote.body.id}`);
}

async function newEquipment(quote: QuoteAt) {
  const { body } = expectStatus(
    await service.as('technician').get(`/v1/quotes/${quote.body.id}/repair-or-replace`),
    200,
  );
  return body.newEquipment;
}

function confirmWith(quote: QuoteAt, statement: string) {
  return as('owner', quote, 'confirm-refrigerant-rules', { statement });
}

async function confirm(quote: QuoteAt): Promise<void> {
  const { statement } = await newEquipment(quote);
  expectStatus(await confirmWith(quote, statement), 200);
}
