import { randomBytes, randomUUID } from 'node:crypto';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import { consumerRules } from '../../seed/consumer-rules.ts';
import type { ActContext } from '../../src/platform/http/route.ts';
import {
  type AnswerContext,
  type AnsweringCustomer,
  acceptQuote as answerYes,
  cancelAcceptance,
  declineQuote,
} from '../../src/quotes/index.ts';
import { amounts, draftChange, offerChange, sendChange, sendTo } from '../harness/change-order.ts';
import { findWornContactor } from '../harness/findings.ts';
import {
  addSite,
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
  yesTo,
} from '../harness/job.ts';
import { limitApprover } from '../harness/limit-approver.ts';
import { tagged } from '../harness/tagged.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { acceptQuote, sellCapacitor } from '../harness/work.ts';

let service: TestService;
const place = 'hazel_county';
beforeAll(async () => {
  service = await createTestService();
  const [right] = consumerRules;
  // Three business days, Sundays and federal holidays not counted, for sales of 25.00 and more.
  expectStatus(
    await service.as('owner').post('/v1/consumer-rules', { ...right, jurisdiction: place }),
    201,
  );
  const rule = { ...taxRule, jurisdiction: place };
  expectStatus(await service.as('owner').post('/v1/tax-rules', rule), 201);
});
afterAll(() => service.close());

/*
 * The yes is given on Tuesday, July 14th. Business days are Wednesday, Thursday and Friday: the
 * right ends at midnight after July 17th, which is 05:00Z on the 18th in Chicago.
 */
const ACCEPTED = '2026-07-14T18:00:00Z';
const LAST_MOMENT = '2026-07-18T04:59:59Z';
const TOO_LATE = '2026-07-18T05:00:00Z';
beforeEach(() => service.clock.set(ACCEPTED));

const notice = { cancelledByName: 'Winifred Ashgrove', noticeText: 'I cancel this transaction.' };

async function jobThere(): Promise<Job> {
  return arriveAtJob(service, await addSite(service, { jurisdiction: place }));
}

async function sold() {
  const job = await jobThere();
  return { job, ...(await sellCapacitor(service, job)) };
}

function cancel(quote: QuoteAt) {
  return sendTo(service, quote, 'cancel-acceptance', notice);
}

describe('a yes that the law lets the customer take back', () => {
  it('says until when, and is taken back once before then', async () => {
    const { quote } = await sold();
    expect(quote.body.acceptance).toMatchObject({
      through: 'staff',
      language: 'en',
      cancelUntil: '2026-07-18T05:00:00.000Z',
      cancellation: null,
    });
    service.clock.set(LAST_MOMENT);
    const cancelled = tagged(expectStatus(await cancel(quote), 200));
    expect(cancelled.body.state, 'that it was accepted is what happened').toBe('accepted');
    expect(cancelled.body.acceptance.cancellation).toEqual({
      cancelledByName: 'Winifred Ashgrove',
      cancelledAt: '2026-07-18T04:59:59.000Z',
      through: 'staff',
      linkMadeBy: null,
    });
    expect(cancelled.tag, 'whoever read it before has not seen this').not.toBe(quote.tag);
    expectProblem(await cancel(quote), 'version-changed');
    expect(expectProblem(await cancel(cancelled), 'not-allowed-now').body.detail).toContain(
      'cancelled already',
    );
  });

  it('is not taken back after that moment, nor where no rule gives the right', async () => {
    const { quote } = await sold();
    const elsewhere = await sellCapacitor(service, await arriveAtJob(service));
    expect(elsewhere.quote.body.acceptance.cancelUntil).toBeNull();
    expectProblem(await cancel(elsewhere.quote), 'not-allowed-now');
    service.clock.set(TOO_LATE);
    expect(expectProblem(await cancel(quote), 'not-allowed-now').body.detail).toContain('run out');
  });

  it('a quote that nobody accepted has nothing to take back', async () => {
    const issued = await issueQuote(service, await draftQuote(service, await jobThere(), []));
    expect(expectProblem(await cancel(issued), 'not-allowed-now').body.currentState).toBe('issued');
  });

  it('takes its change orders with it: none is drafted, issued or accepted any more', async () => {
    const { job, quote } = await sold();
    const contactor = await findWornContactor(service, job);
    const draft = await draftChange(service, job, quote, [contactor]);
    const offer = await offerChange(service, job, quote, [contactor]);
    expectStatus(await cancel(quote), 200);
    const answers = [
      await sendChange(service, job, quote, [contactor]),
      await sendTo(service, draft, 'issue'),
      await sendTo(service, offer, 'accept', yesTo(offer)),
    ];
    for (const answer of answers) {
      expect(expectProblem(answer, 'not-allowed-now').body.detail).toContain('taken back');
    }
  });

  it('leaves the visit and its findings free for another quote, with the fee and the way in', async () => {
    const { job, quote, findingId } = await sold();
    expectStatus(await cancel(quote), 200);
    const again = await draftQuote(service, job, [findingId]);
    expect(amounts(again)).toMatchObject({
      'visit_fee visit_fee': 8_900,
      'access outdoor_unit_cabinet': 2_516,
    });
    const accepted = await acceptQuote(service, await issueQuote(service, again));
    expect(accepted.body.acceptance.totalCents).toBe(20_490);
  });
});

describe('a customer who answers at their own link', () => {
  /** The act of whoever holds a living link of a quote. */
  async function atLink(
    quote: QuoteAt,
    holder: 'approver' | 'payer',
    work: (act: AnswerContext) => Promise<void>,
  ): Promise<string> {
    const linkId = randomUUID();
    const now = service.clock.now();
    const made = await service.owner.query(
      `INSERT INTO quote_link
         (id, quote_id, token_hash, holder, holder_id, created_at, created_by_id, expires_at)
       SELECT $1, q.id, $3, $4, CASE $4 WHEN 'payer' THEN s.payer_id ELSE s.approver_id END,
         $5, $6, $5::timestamptz + interval '30 days'
       FROM quote q JOIN ticket t ON t.id = q.ticket_id JOIN site s ON s.id = t.site_id
       WHERE q.id = $2 RETURNING holder_id`,
      [linkId, quote.body.id, randomBytes(32), holder, now, service.staff.technician.id],
    );
    const context: Omit<ActContext, 'tx' | 'actor'> = {
      now,
      requestId: randomUUID(),
      log: service.app.log as ActContext['log'],
      newId: randomUUID,
      origin: { address: '192.0.2.7', userAgent: 'A phone' },
      mustMatch: () => undefined,
      addressOf: (path) => path,
    };
    const holderId: string = made.rows[0].holder_id;
    const actor: AnsweringCustomer = {
      ...{ kind: 'customer', id: linkId, name: 'Orla Penhaligon' },
      holderId,
    };
    await service.db.transact((tx) => work({ ...context, tx, actor }), 'ReadCommitted');
    return linkId;
  }

  async function offeredAbove(approverLimitCents: number | null): Promise<QuoteAt> {
    const job = await jobThere();
    if (approverLimitCents !== null) await limitApprover(service, job.siteId, approverLimitCents);
    const found = await findCapacitor(service, job);
    return issueQuote(service, await draftQuote(service, job, [found]));
  }

  function yesInSpanish({ body }: QuoteAt) {
    return {
      optionId: body.options[0].id,
      acceptedByName: 'Orla Penhaligon',
      consentText: 'Acepto esta opción por este total.',
      shownTotalCents: body.options[0].totalCents,
      shownContentHash: body.contentHash,
      language: 'es' as const,
    };
  }

  async function read({ body }: QuoteAt) {
    return expectStatus(await service.as('dispatcher').get(`/v1/quotes/${body.id}`), 200).body;
  }

  it('gives the yes with no member of staff beside it, and takes it back there too', async () => {
    const quote = await offeredAbove(null);
    const linkId = await atLink(quote, 'approver', (act) =>
      answerYes(act, quote.body.id, yesInSpanish(quote)),
    );
    expect((await read(quote)).acceptance).toMatchObject({
      through: 'link',
      language: 'es',
      acceptedByName: 'Orla Penhaligon',
    });
    const entries = await service.owner.query(
      `SELECT actor_kind, actor_id, actor_role FROM journal_entry
       WHERE event = 'quote.accepted' AND subject_id = $1`,
      [quote.body.id],
    );
    expect(entries.rows).toEqual([{ actor_kind: 'customer', actor_id: linkId, actor_role: null }]);
    await atLink(quote, 'payer', (act) => cancelAcceptance(act, quote.body.id, notice));
    expect((await read(quote)).acceptance.cancellation).not.toBeNull();
  });

  it('says no without knowing how the system was left', async () => {
    const quote = await offeredAbove(null);
    await atLink(quote, 'approver', (act) =>
      declineQuote(act, quote.body.id, { declinedByName: 'Orla Penhaligon' }),
    );
    expect((await read(quote)).decline).toMatchObject({ through: 'link', conditionLeft: null });
  });

  it('as the approver never agrees above the limit, whoever they name; the payer may', async () => {
    const quote = await offeredAbove(20_000);
    const named = { ...yesInSpanish(quote), beyondLimitAgreedBy: 'Myself' };
    await expect(
      atLink(quote, 'approver', (act) => answerYes(act, quote.body.id, named)),
    ).rejects.toMatchObject({ slug: 'above-approval-limit' });
    await atLink(quote, 'payer', (act) => answerYes(act, quote.body.id, yesInSpanish(quote)));
    expect((await read(quote)).acceptance.totalCents).toBe(20_490);
  });

  it('as the approver agrees up to the limit itself', async () => {
    const quote = await offeredAbove(20_490);
    await atLink(quote, 'approver', (act) => answerYes(act, quote.body.id, yesInSpanish(quote)));
    expect((await read(quote)).state).toBe('accepted');
  });
});
