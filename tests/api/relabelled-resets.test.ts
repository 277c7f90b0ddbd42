import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { faultCatalog, taskCodeSchema } from '../../src/trade/index.ts';
import {
  findOpenFloatSwitch,
  findOpenFuse,
  findPluggedDrain,
  findTrippedBreaker,
  record,
} from '../harness/findings.ts';
import { addFinding, arriveAtJob, findCapacitor, type Job } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';

/**
 * What only sets something back, written down here a second time on purpose: whoever renames a
 * reset in the catalog meets this table. From the product's rules.
 */
const RESETS = [
  ['tripped_breaker', 'reset_breaker'],
  ['open_disconnect', 'restore_disconnect'],
  ['open_disconnect_fuse', 'replace_disconnect_fuses'],
  ['open_control_fuse', 'replace_control_fuse'],
  ['thermostat_set_wrong', 'set_thermostat'],
  ['dead_thermostat_batteries', 'replace_thermostat_batteries'],
  ['open_float_switch', 'reset_float_switch'],
] as const;

let service: TestService;
let job: Job;
let breaker: string;
let fuse: string;
let floatSwitch: string;
beforeAll(async () => {
  service = await createTestService();
  job = await arriveAtJob(service);
  breaker = await findTrippedBreaker(service, job);
  fuse = await findOpenFuse(service, job);
  floatSwitch = await findOpenFloatSwitch(service, job);
});
afterAll(() => service.close());

describe('what a finding is called decides nothing', () => {
  // Every work that could be slipped under a reset, and every reset that could be slipped under
  // another fault; what belongs together is found in every-remedy.test.ts.
  const resetFaults: readonly string[] = RESETS.map(([faultCode]) => faultCode);
  const resetTasks: readonly string[] = RESETS.map(([, taskCode]) => taskCode);
  const mismatches = faultCatalog.flatMap(({ code, remedies }) =>
    taskCodeSchema.options
      .filter((task) => resetFaults.includes(code) || resetTasks.includes(task))
      .filter((task) => remedies.every((remedy) => remedy.task !== task))
      .map((taskCode) => ({ faultCode: code, taskCode })),
  );

  it.each(mismatches)(
    '$faultCode is never mended by $taskCode',
    async ({ faultCode, taskCode }) => {
      const answer = await findingRequest({ equipmentId: job.outdoorId, faultCode, taskCode });
      const remedies = faultCatalog.find(({ code }) => code === faultCode)?.remedies ?? [];
      expect(expectProblem(answer, 'does-not-fit').body.allowedTasks).toEqual(
        remedies.map(({ task }) => task),
      );
    },
  );

  it.each(RESETS)('%s mended by %s is a reset, whoever asks', async (faultCode, taskCode) => {
    const listed = await service.as('technician').get('/v1/faults');
    const fault = listed.body.items.find((each: { code: string }) => each.code === faultCode);
    const remedy = fault.remedies.find((each: { task: string }) => each.task === taskCode);
    expect(remedy.remedyClass).toBe('reset');
    const elsewhere = listed.body.items.filter(
      (each: { code: string; remedies: { task: string }[] }) =>
        each.code !== faultCode && each.remedies.some(({ task }) => task === taskCode),
    );
    expect(elsewhere).toEqual([]);
  });

  it.each([
    ['a class', { remedyClass: 'repair' }],
    ['a price', { priceCents: 30_000 }],
    ['an amount', { amountCents: 30_000 }],
    ['minutes', { minutes: 120 }],
    ['a standing', { standing: 'proven' }],
    ['that it carries a price', { priceable: true }],
    ['a name', { faultName: 'Failed board' }],
    ['a verdict', { verdict: { standing: 'proven' } }],
    ['an override', { override: { reason: 'because' } }],
    [
      'a part with a price',
      { parts: [{ partCode: 'FUSE-3A', quantity: 1, unitPriceCents: 9_900 }] },
    ],
    ['a part with a cost', { parts: [{ partCode: 'FUSE-3A', quantity: 1, costCents: 9_900 }] }],
    ['eleven parts', { parts: [{ partCode: 'FUSE-3A', quantity: 11 }] }],
    ['half a part', { parts: [{ partCode: 'FUSE-3A', quantity: 0.5 }] }],
    ['a negative part', { parts: [{ partCode: 'FUSE-3A', quantity: -1 }] }],
  ])('a finding cannot be sent with %s', async (_what, extra) => {
    const answer = await findingRequest({
      equipmentId: job.indoorId,
      faultCode: 'open_control_fuse',
      taskCode: 'replace_control_fuse',
      parts: [{ partCode: 'FUSE-3A', quantity: 1 }],
      ...extra,
    });
    expectProblem(answer, 'validation-failed');
  });

  it.each([
    ['five fuses', [{ partCode: 'FUSE-3A', quantity: 5 }]],
    ['two kinds of fuse', twoFuses()],
    ['the same fuse twice', [onePart('FUSE-3A'), onePart('FUSE-3A')]],
    ['a contactor', [onePart('CON-2P-30-24')]],
    ['a capacitor', [onePart('CAP-45-5-440')]],
    ['a fuse and a contactor', [onePart('FUSE-3A'), onePart('CON-2P-30-24')]],
    ['a larger fuse', [onePart('FUSE-5A')]],
  ])('a fuse that is set back does not carry %s', async (_what, parts) => {
    const answer = await findingRequest({
      equipmentId: job.indoorId,
      faultCode: 'open_control_fuse',
      taskCode: 'replace_control_fuse',
      parts,
    });
    expectProblem(answer, 'does-not-fit');
  });

  it('a breaker that is set back carries no part at all', async () => {
    const answer = await findingRequest({
      equipmentId: job.outdoorId,
      faultCode: 'tripped_breaker',
      taskCode: 'reset_breaker',
      parts: [onePart('CON-2P-30-24')],
    });
    expectProblem(answer, 'does-not-fit');
  });
});

describe('what a quote asks for cannot make a reset cost more', () => {
  it.each([
    ['a total', { totalCents: 45_000 }],
    ['lines', { lines: [{ kind: 'labor', amountCents: 30_000 }] }],
    ['work', { work: [{ remedyClass: 'repair', minutes: 120 }] }],
    ['a class', { remedyClass: 'repair' }],
    ['parts', { parts: [{ code: 'X', amountCents: 30_000 }] }],
  ])('an option cannot be sent with %s', async (_what, extra) => {
    const answer = await quoteRequest('technician', [breaker], extra);
    expectProblem(answer, 'validation-failed');
  });

  it.each([
    ['a price', { priceCents: 45_000 }],
    ['another fee', { visitFee: { chargeable: true, amountCents: 45_000 } }],
    ['another policy', { policy: { fairBandTolerance: '1' } }],
    ['other rates', { rates: { margin: '0.9' } }],
    ['another tax', { tax: { rate: '0.9' } }],
    ['another period', { period: { code: 'after_hours', laborFactor: '9' } }],
  ])('a quote cannot be sent with %s', async (_what, extra) => {
    const answer = await service.as('owner').post('/v1/quotes', {
      visitId: job.visitId,
      options: [{ title: 'Reset', findingIds: [breaker] }],
      ...extra,
    });
    expectProblem(answer, 'validation-failed');
  });

  const byWhom = ['technician', 'owner'] as const;

  it.each(byWhom)('no adjustment by the %s charges the labor of a reset', async (who) => {
    for (const [id, task] of [
      [breaker, 'reset_breaker'],
      [fuse, 'replace_control_fuse'],
      [floatSwitch, 'reset_float_switch'],
    ]) {
      for (const amountCents of [1, 30_000]) {
        const answer = await quoteRequest(who, [breaker, fuse, floatSwitch], {
          adjustments: [{ aimedAt: `labor:${id}:${task}`, amountCents, reason: 'Hard to reach' }],
        });
        expectRefusal(answer, 'free_line_charged');
      }
    }
  });

  it.each(byWhom)(
    'no adjustment by the %s brings access or a discount into a reset',
    async (who) => {
      for (const aimedAt of [
        `access:${job.systemId}:electrical_panel`,
        `access:${job.systemId}:indoor_unit_cabinet`,
        `discount:labor:${breaker}:reset_breaker:second_task`,
        'tax',
        'credit:visit_fee',
      ]) {
        const answer = await quoteRequest(who, [breaker, floatSwitch], {
          adjustments: [{ aimedAt, amountCents: 5_000, reason: 'Hard to reach' }],
        });
        expectRefusal(answer, 'unknown_adjustment_target');
      }
    },
  );

  it('nobody says by whom an adjustment is but the token that sends it', async () => {
    const answer = await quoteRequest('technician', [fuse], {
      adjustments: [{ aimedAt: 'visit_fee', amountCents: 1, reason: 'x', byOwner: true }],
    });
    expectProblem(answer, 'validation-failed');
  });

  it.each(byWhom)(
    'the %s raises neither the fee that was told nor the fuse of a reset, not by a cent',
    async (who) => {
      for (const [aimedAt, code] of [
        ['visit_fee', 'fee_raised'],
        [`part:${fuse}:replace_control_fuse:FUSE-3A`, 'reset_raised'],
      ] as const) {
        const answer = await quoteRequest(who, [fuse], {
          adjustments: [{ aimedAt, amountCents: 1, reason: 'Hard to reach' }],
        });
        expectRefusal(answer, code);
      }
    },
  );

  it('what is let off a fuse stands as a line of its own with its reason', async () => {
    const answer = await quoteRequest('technician', [fuse], {
      adjustments: [
        {
          aimedAt: `part:${fuse}:replace_control_fuse:FUSE-3A`,
          amountCents: -50,
          reason: 'It was lying in the truck',
        },
      ],
    });
    const { lines } = expectStatus(answer, 201).body.options[0];
    expect(lines.filter(({ kind }: { kind: string }) => kind === 'adjustment')).toMatchObject([
      { class: 'part', amountCents: -50, why: { sentence: 'It was lying in the truck' } },
    ]);
    expect(timeCents(lines)).toBe(0);
  });

  it('the same finding twice in one option is refused', async () => {
    expectRefusal(await quoteRequest('technician', [breaker, breaker]), 'duplicate_finding');
  });

  it('two findings that ask for the same work are one piece of work, still free', async () => {
    const again = await findTrippedBreaker(service, job);
    const answer = await quoteRequest('technician', [breaker, again]);
    const { lines } = expectStatus(answer, 201).body.options[0];
    expect(lines.filter(({ kind }: { kind: string }) => kind === 'labor')).toHaveLength(1);
    expect(timeCents(lines)).toBe(0);
  });

  it('a finding of another visit is refused', async () => {
    const other = await arriveAtJob(service);
    const foreign = await findCapacitor(service, other);
    expectProblem(await quoteRequest('technician', [breaker, foreign]), 'unknown-reference');
  });
});

describe('an override by the owner', () => {
  it('gives an unproven reset a place on the quote, and still no labor', async () => {
    const place = await arriveAtJob(service);
    const unproven = await addFinding(service, place, {
      equipmentId: place.outdoorId,
      faultCode: 'tripped_breaker',
      taskCode: 'reset_breaker',
    });
    const override = await service
      .as('owner')
      .post(`/v1/findings/${unproven}/override`, { reason: 'The customer had reset it already.' });
    expect(expectStatus(override, 201).body).toMatchObject({
      remedyClass: 'reset',
      priceable: false,
    });
    const quote = await service.as('owner').post('/v1/quotes', {
      visitId: place.visitId,
      options: [{ title: 'Reset', findingIds: [unproven] }],
    });
    expect(expectStatus(quote, 201).body.options[0].totalCents).toBe(8_900);
  });

  it.each([
    ['a class', { remedyClass: 'repair' }],
    ['a price', { priceCents: 30_000 }],
    ['a task', { taskCode: 'replace_contactor' }],
  ])('cannot be sent with %s', async (_what, extra) => {
    const answer = await service
      .as('owner')
      .post(`/v1/findings/${breaker}/override`, { reason: 'Because.', ...extra });
    expectProblem(answer, 'validation-failed');
  });

  it('is not for a finding that carries its price already, and not for a technician', async () => {
    const path = `/v1/findings/${breaker}/override`;
    expectProblem(await service.as('owner').post(path, { reason: 'x' }), 'already-exists');
    expectProblem(await service.as('technician').post(path, { reason: 'x' }), 'forbidden');
  });
});

describe('a reset beside real work', () => {
  it('adds its materials and nothing else to the price of the work', async () => {
    const place = await arriveAtJob(service);
    const drain = await findPluggedDrain(service, place);
    const sameVisit = (findingIds: string[]) =>
      service.as('technician').post('/v1/quotes', {
        visitId: place.visitId,
        options: [{ title: 'Work', findingIds }],
      });
    const alone = expectStatus(await sameVisit([drain]), 201).body.options[0];
    await record(service, place, {
      observations: [{ equipmentId: place.indoorId, code: 'float_switch_raised', answer: 'yes' }],
    });
    const resets = [
      await findOpenFloatSwitch(service, place),
      await findTrippedBreaker(service, place),
      await findOpenFuse(service, place),
    ];
    const together = expectStatus(await sameVisit([drain, ...resets]), 201).body.options[0];
    // The fuse at 1.35 and 8.25 % on it.
    expect(together.totalCents - alone.totalCents).toBe(135 + 11);
    expect(timeCents(together.lines)).toBe(timeCents(alone.lines));
  });
});

function onePart(partCode: string) {
  return { partCode, quantity: 1 };
}

function twoFuses() {
  return [onePart('FUSE-3A'), onePart('FUSE-5A')];
}

function findingRequest(body: object) {
  return service.as('technician').post(`/v1/visits/${job.visitId}/findings`, body);
}

function quoteRequest(who: 'technician' | 'owner', findingIds: string[], option: object = {}) {
  return service.as(who).post('/v1/quotes', {
    visitId: job.visitId,
    options: [{ title: 'Reset', findingIds, ...option }],
  });
}

type Answer = Awaited<ReturnType<typeof quoteRequest>>;

function expectRefusal(answer: Answer, code: string): void {
  const { errors } = expectProblem(answer, 'price-refused').body;
  expect(errors.map((error: { code: string }) => error.code)).toContain(code);
}

function timeCents(lines: { class: string; amountCents: number }[]): number {
  return lines
    .filter((line) => line.class === 'labor' || line.class === 'access')
    .reduce((sum, { amountCents }) => sum + amountCents, 0);
}
