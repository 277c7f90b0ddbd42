import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findWornContactor } from '../harness/findings.ts';
import { addSite, arriveAtJob, draftQuote, issueQuote, type Job, yesTo } from '../harness/job.ts';
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

/** The part of one finding, put in under an accepted quote. */
interface Used {
  job: Job;
  partUseId: string;
}

/** A contactor put in, under its maker's warranty or not. */
async function contactorUsed(partsWarrantyUntil: string | undefined): Promise<Used> {
  const outdoor = partsWarrantyUntil === undefined ? {} : { partsWarrantyUntil };
  const job = await arriveAtJob(service, await addSite(service, { outdoor }));
  const findingId = await findWornContactor(service, job);
  const quote = await issueQuote(service, await draftQuote(service, job, [findingId]));
  const path = `/v1/quotes/${quote.body.id}/accept`;
  const technician = service.as('technician');
  expectStatus(await technician.post(path, yesTo(quote), { ifMatch: quote.tag }), 200);
  const used = await technician.post(`/v1/visits/${job.visitId}/part-uses`, {
    quoteId: quote.body.id,
    findingId,
    partCode: 'CON-2P-30-24',
    quantity: 1,
    serial: 'NEW-1',
    oldPart: 'kept_for_claim',
    oldSerial: 'OLD-1',
  });
  return { job, partUseId: expectStatus(used, 201).body.id };
}

const claim = ({ partUseId }: Used) =>
  service.as('dispatcher').post(`/v1/part-uses/${partUseId}/claim`);

interface ClaimAt {
  id: string;
  tag: string;
}

const step = ({ id, tag }: ClaimAt, verb: string, body: object) =>
  service.as('dispatcher').post(`/v1/claims/${id}/${verb}`, body, { ifMatch: tag });

const at = (answer: Awaited<ReturnType<typeof claim>>): ClaimAt => ({
  id: answer.body.id,
  tag: answer.headers['etag'] ?? '',
});

const SENT = { registration: 'REG-77', oldPart: 'returned', happenedOn: '2026-07-14' };
const CREDITED = { amountCents: 2_175, reference: 'CM-9', happenedOn: '2026-07-14' };

describe('what a maker owes us for a part', () => {
  it('is claimed with its machine, both serials and the registration, and ends in the credit', async () => {
    const used = await contactorUsed('2030-01-01');
    const opened = expectStatus(await claim(used), 201);
    expect(opened.body).toMatchObject({
      partUseId: used.partUseId,
      ticketId: used.job.ticketId,
      equipment: { id: used.job.outdoorId, kind: 'condensing_unit' },
      partCode: 'CON-2P-30-24',
      newSerial: 'NEW-1',
      oldSerial: 'OLD-1',
      oldPartAtVisit: 'kept_for_claim',
      state: 'open',
      allowedActions: ['send', 'withdraw'],
      sent: null,
      credited: null,
      refused: null,
      withdrawn: null,
    });
    const sent = expectStatus(await step(at(opened), 'send', SENT), 200);
    expect(sent.body).toMatchObject({ state: 'sent', sent: SENT });
    const credited = expectStatus(await step(at(sent), 'credit', CREDITED), 200);
    expect(credited.body).toMatchObject({
      state: 'credited',
      credited: CREDITED,
      allowedActions: [],
    });
    expect((await service.as('owner').get(`/v1/claims/${opened.body.id}`)).body).toEqual(
      credited.body,
    );
  });

  it('may be refused, with the reason', async () => {
    const opened = await claim(await contactorUsed('2030-01-01'));
    const sent = await step(at(opened), 'send', SENT);
    const refused = await step(at(sent), 'refuse', {
      reason: 'Not registered in time.',
      happenedOn: '2026-07-14',
    });
    expect(expectStatus(refused, 200).body).toMatchObject({
      state: 'refused',
      refused: { reason: 'Not registered in time.' },
    });
    expectProblem(await step(at(refused), 'credit', CREDITED), 'not-allowed-now');
  });

  it('is withdrawn with a reason while its maker does not have it, and not afterwards', async () => {
    const WITHDRAWN = { reason: 'The part went into another house.', happenedOn: '2026-07-14' };
    const opened = await claim(await contactorUsed('2030-01-01'));
    const withdrawn = await step(at(opened), 'withdraw', WITHDRAWN);
    expect(expectStatus(withdrawn, 200).body).toMatchObject({
      state: 'withdrawn',
      allowedActions: [],
      withdrawn: WITHDRAWN,
    });
    expectProblem(await step(at(withdrawn), 'send', SENT), 'not-allowed-now');
    const sent = await step(at(await claim(await contactorUsed('2030-01-01'))), 'send', SENT);
    expectProblem(await step(at(sent), 'withdraw', WITHDRAWN), 'not-allowed-now');
  });

  it('is claimed once', async () => {
    const used = await contactorUsed('2030-01-01');
    const first = expectStatus(await claim(used), 201);
    expect(expectProblem(await claim(used), 'already-exists').body.claimId).toBe(first.body.id);
  });

  it('is not claimed for a part that the customer paid for', async () => {
    expectProblem(await claim(await contactorUsed(undefined)), 'not-allowed-now');
  });

  it('is credited once, whoever else is just about to write it down', async () => {
    const sent = at(await step(at(await claim(await contactorUsed('2030-01-01'))), 'send', SENT));
    const both = await Promise.all([
      step(sent, 'credit', CREDITED),
      step(sent, 'credit', CREDITED),
    ]);
    const statuses = both.map(({ status }) => status).sort();
    expect(statuses[0]).toBe(200);
    expect([409, 412]).toContain(statuses[1]);
    const { rows } = await service.owner.query(
      'SELECT amount_cents FROM warranty_claim_step WHERE claim_id = $1 AND step = $2',
      [sent.id, 'credited'],
    );
    expect(rows).toEqual([{ amount_cents: 2_175 }]);
  });

  it('is not written down before it happened, nor by a technician', async () => {
    const opened = at(await claim(await contactorUsed('2030-01-01')));
    expectProblem(
      await step(opened, 'send', { ...SENT, happenedOn: '2026-07-15' }),
      'validation-failed',
    );
    const asTechnician = await service
      .as('technician')
      .post(`/v1/claims/${opened.id}/send`, SENT, { ifMatch: opened.tag });
    expectProblem(asTechnician, 'forbidden');
  });

  it('takes its steps in the order of their days', async () => {
    const opened = at(await claim(await contactorUsed('2030-01-01')));
    const tooEarly = (answer: Awaited<ReturnType<typeof step>>, message: string) =>
      expect(expectProblem(answer, 'validation-failed').body.errors).toMatchObject([
        { pointer: '/happenedOn', code: 'too_early', message },
      ]);
    tooEarly(
      await step(opened, 'send', { ...SENT, happenedOn: '2026-07-13' }),
      'is before the part went in, on 2026-07-14',
    );
    service.clock.set('2026-07-20T18:00:00Z');
    const sent = at(await step(opened, 'send', { ...SENT, happenedOn: '2026-07-15' }));
    tooEarly(await step(sent, 'credit', CREDITED), 'is before the claim was sent, on 2026-07-15');
    const old = { ...CREDITED, happenedOn: '2026-07-17' };
    expect(expectProblem(await step(sent, 'credit', old), 'forbidden').body).toMatchObject({
      detail: 'A credit of more than two days ago is the owner’s to write down.',
    });
    const byOwner = await service
      .as('owner')
      .post(`/v1/claims/${sent.id}/credit`, old, { ifMatch: sent.tag });
    expectStatus(byOwner, 200);
  });

  it('is found by its state', async () => {
    const listed = await service.as('dispatcher').get('/v1/claims?state=credited&order=newest');
    const states = expectStatus(listed, 200).body.items.map(
      ({ state }: { state: string }) => state,
    );
    expect(new Set(states)).toEqual(new Set(['credited']));
  });
});
