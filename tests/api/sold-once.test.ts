import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { assertAddsUp } from '../harness/assert-adds-up.ts';
import { chargedPlate, findLowCharge } from '../harness/findings.ts';
import {
  addFinding,
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  outdoorPlate,
  proveCapacitor,
  yesTo,
} from '../harness/job.ts';
import { limitApprover } from '../harness/limit-approver.ts';
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

const fanFailed = [
  { point: 'capacitor_fan', quantity: 'capacitance', value: 3.1, unit: 'uF' },
] as const;

async function measure(job: Job, readings: readonly object[]): Promise<void> {
  expectStatus(
    await service.as('technician').post(`/v1/visits/${job.visitId}/readings`, {
      readings: readings.map((reading) => ({
        equipmentId: job.outdoorId,
        method: 'capacitance_meter_disconnected',
        ...reading,
      })),
    }),
    201,
  );
}

describe('nothing is sold twice', () => {
  it('a visit has one accepted quote: no second is drafted, issued or accepted beside it', async () => {
    const job = await arriveAtJob(service);
    const capacitor = await findCapacitor(service, job);
    const first = await issueQuote(service, await draftQuote(service, job, [capacitor]));
    const waiting = await draftQuote(service, job, [capacitor]);
    const second = await issueQuote(service, await draftQuote(service, job, [capacitor]));
    const technician = service.as('technician');
    const accept = (quote: typeof first) =>
      technician.post(`/v1/quotes/${quote.body.id}/accept`, yesTo(quote), { ifMatch: quote.tag });
    expectStatus(await accept(first), 200);

    expectProblem(await accept(second), 'not-allowed-now');
    const issued = await technician.post(
      `/v1/quotes/${waiting.body.id}/issue`,
      {},
      { ifMatch: waiting.tag },
    );
    expect(expectProblem(issued, 'not-allowed-now').body.detail).toContain('change order');
    const drafted = await technician.post('/v1/quotes', {
      visitId: job.visitId,
      options: [{ title: 'Again', findingIds: [capacitor] }],
    });
    expectProblem(drafted, 'not-allowed-now');
  });

  it('of two quotes of a visit accepted at once one is, and the other is refused', async () => {
    for (let round = 0; round < 5; round += 1) {
      const job = await arriveAtJob(service);
      const capacitor = await findCapacitor(service, job);
      const quotes = [
        await issueQuote(service, await draftQuote(service, job, [capacitor])),
        await issueQuote(service, await draftQuote(service, job, [capacitor])),
      ];
      const answers = await Promise.all(
        quotes.map((quote) =>
          service
            .as('technician')
            .post(`/v1/quotes/${quote.body.id}/accept`, yesTo(quote), { ifMatch: quote.tag }),
        ),
      );
      expect(answers.map(({ status }) => status).sort()).toEqual([200, 409]);
    }
  });

  it('both sections of a dual capacitor failed: two findings on one can, replaced once', async () => {
    const job = await arriveAtJob(service);
    const herm = await findCapacitor(service, job);
    await measure(job, fanFailed);
    const fan = await addFinding(service, job, {
      equipmentId: job.outdoorId,
      faultCode: 'run_capacitor_fan',
      taskCode: 'replace_dual_run_capacitor',
      parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
    });
    const alone = await draftQuote(service, job, [herm]);
    const both = await issueQuote(service, await draftQuote(service, job, [herm, fan]));
    const [option] = both.body.options;
    assertAddsUp(option);
    expect(option.totalCents).toBe(alone.body.options[0].totalCents);
    const turned = await draftQuote(service, job, [fan, herm]);
    expect(keysOf(turned), 'chosen in another order').toEqual(keysOf(both));
    const charged = option.lines.filter((line: { kind: string }) =>
      ['part', 'labor', 'access'].includes(line.kind),
    );
    expect(charged).toHaveLength(3);
    for (const line of charged) expect(line.findingIds.sort()).toEqual([herm, fan].sort());
    const { rows } = await service.owner.query(
      'SELECT paper FROM quote_issue WHERE quote_id = $1',
      [both.body.id],
    );
    expect(rows[0].paper.findings, 'the paper tells both').toHaveLength(2);
  });
});

/** The keys of the lines of the first option, at which adjustments are aimed. */
function keysOf({ body }: { body: { options: { lines: { key: string }[] }[] } }): string[] {
  return (body.options[0]?.lines ?? []).map(({ key }) => key);
}

describe('one circuit, one charge', () => {
  it('nothing is added beside a renewed charge', async () => {
    const nameplate = { ...outdoorPlate, ...chargedPlate };
    const job = await arriveAtJob(service, await addSite(service, { outdoor: { nameplate } }));
    const added = await findLowCharge(service, job);
    const renewed = await addFinding(service, job, {
      equipmentId: job.outdoorId,
      faultCode: 'low_charge',
      taskCode: 'renew_charge',
      parts: [{ partCode: 'REF-R-410A', measured: '7.25' }],
    });
    await draftQuote(service, job, [renewed]);
    const beside = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [{ title: 'Both', findingIds: [added, renewed] }],
    });
    expect(expectProblem(beside, 'price-refused').body.errors[0].code).toBe('same_work_twice');
  });
});

describe('one can, one price', () => {
  it('no separate capacitor is sold beside the dual one that holds both sections', async () => {
    const job = await arriveAtJob(service);
    const herm = await findCapacitor(service, job);
    await measure(job, fanFailed);
    const technician = service.as('technician');
    const refused = await technician.post(`/v1/visits/${job.visitId}/findings`, {
      equipmentId: job.outdoorId,
      faultCode: 'run_capacitor_fan',
      taskCode: 'replace_fan_run_capacitor',
      parts: [{ partCode: 'CAP-5-440', quantity: 1 }],
    });
    const fan = expectStatus(refused, 201).body.id;
    const beside = await technician.post('/v1/quotes', {
      visitId: job.visitId,
      options: [{ title: 'Both', findingIds: [herm, fan] }],
    });
    expect(expectProblem(beside, 'price-refused').body.errors[0].code).toBe('same_work_twice');
  });
});

describe('what is issued is priced today', () => {
  it('a draft priced under another tax rule or price book is refused, and priced anew it is not', async () => {
    const job = await arriveAtJob(service);
    const draft = await draftQuote(service, job, [await findCapacitor(service, job)]);
    const later = new Date(service.clock.now().getTime() + 3 * 86_400_000);
    expectStatus(
      await service.as('owner').post('/v1/tax-rules', {
        ...taxRule,
        rate: '0.09',
        effectiveFrom: later.toISOString().slice(0, 10),
      }),
      201,
    );
    service.clock.set(new Date(later.getTime() + 86_400_000).toISOString());
    const technician = service.as('technician');
    const issue = (tag: string) =>
      technician.post(`/v1/quotes/${draft.body.id}/issue`, {}, { ifMatch: tag });
    expectProblem(await issue(draft.tag), 'price-outdated');
    const revised = await technician.post(
      `/v1/quotes/${draft.body.id}/revise`,
      { options: [{ title: 'Repair', findingIds: draft.body.options[0].lines[1].findingIds }] },
      { ifMatch: draft.tag },
    );
    expectStatus(revised, 200);
    const issued = await issue(revised.headers['etag'] ?? '');
    expect(expectStatus(issued, 200).body.options[0].taxCents).toBe(497);
  });
});

describe('the approver of a site', () => {
  it('agrees up to the limit; beyond it somebody else is named', async () => {
    const site = await addSite(service);
    await limitApprover(service, site.siteId, 10_000);
    const job = await arriveAtJob(service, site);
    const quote = await issueQuote(
      service,
      await draftQuote(service, job, [await findCapacitor(service, job)]),
    );
    const accept = (more: object) =>
      service.as('technician').post(
        `/v1/quotes/${quote.body.id}/accept`,
        { ...yesTo(quote), ...more },
        {
          ifMatch: quote.tag,
        },
      );
    expectProblem(await accept({}), 'above-approval-limit');
    expectStatus(await accept({ beyondLimitAgreedBy: 'Leopold Ashgrove' }), 200);
  });
});

describe('a finding is sold on what is known when it is sold', () => {
  it('is not drafted once later readings contradict it, and is again when found anew', async () => {
    const job = await arriveAtJob(service);
    const capacitor = await findCapacitor(service, job);
    const sound = { point: 'capacitor_herm', quantity: 'capacitance', unit: 'uF' };
    service.clock.advance(60_000);
    await measure(job, [{ ...sound, value: 45.1 }]);
    service.clock.advance(60_000);
    await measure(job, [{ ...sound, value: 45 }]);
    const refused = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [{ title: 'Repair', findingIds: [capacitor] }],
    });
    expect(expectProblem(refused, 'evidence-missing').body.detail).toContain(
      'Add the finding again',
    );
  });

  it('is not issued once readings after the draft contradict it', async () => {
    const job = await arriveAtJob(service);
    await proveCapacitor(service, job);
    const capacitor = await findCapacitor(service, job);
    const draft = await draftQuote(service, job, [capacitor]);
    const sound = { point: 'capacitor_herm', quantity: 'capacitance', unit: 'uF' };
    for (const value of [45.1, 45]) {
      service.clock.advance(60_000);
      await measure(job, [{ ...sound, value }]);
    }
    const issued = await service
      .as('technician')
      .post(`/v1/quotes/${draft.body.id}/issue`, {}, { ifMatch: draft.tag });
    expectProblem(issued, 'evidence-missing');
  });
});

describe('words', () => {
  it('an option that only resets is called a reset, whatever title was asked for', async () => {
    const job = await arriveAtJob(service);
    expectStatus(
      await service.as('technician').post(`/v1/visits/${job.visitId}/observations`, {
        observations: [
          { equipmentId: job.outdoorId, code: 'breaker_found_tripped', answer: 'yes' },
        ],
      }),
      201,
    );
    const breaker = await addFinding(service, job, {
      equipmentId: job.outdoorId,
      faultCode: 'tripped_breaker',
      taskCode: 'reset_breaker',
    });
    const drafted = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [{ title: 'MAJOR ELECTRICAL REPAIR', findingIds: [breaker] }],
    });
    expect(expectStatus(drafted, 201).body.options[0].title).toBe('Reset the breaker');
  });
});
