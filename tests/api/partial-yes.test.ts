import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { assertReprices } from '../harness/assert-reprices.ts';
import { amounts, offerChange, sendTo } from '../harness/change-order.ts';
import { findPluggedDrain, findWornContactor } from '../harness/findings.ts';
import {
  arriveAtJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
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
import { acceptQuote } from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

/** A capacitor and a contactor, offered together. */
async function offered() {
  const job = await arriveAtJob(service);
  const capacitor = await findCapacitor(service, job);
  const contactor = await findWornContactor(service, job);
  const quote = await issueQuote(service, await draftQuote(service, job, [capacitor, contactor]));
  return { job, capacitor, contactor, quote };
}

function choose(quote: QuoteAt, findingIds: string[], optionId = quote.body.options[0].id) {
  return sendTo(service, quote, 'partial-yes', { optionId, findingIds });
}

describe('a yes to some of an option', () => {
  it('is a next revision with a price of its own, and leaves the paper standing until it is issued', async () => {
    const { contactor, quote } = await offered();
    const part = tagged(expectStatus(await choose(quote, [contactor]), 200));
    expect(part.body).toMatchObject({ revision: 2, state: 'draft' });
    expect(part.body.revisions).toEqual([
      { revision: 1, state: 'issued' },
      { revision: 2, state: 'draft' },
    ]);
    expect(part.body.options).toHaveLength(1);
    expect(part.body.options[0].title).toBe(quote.body.options[0].title);
    // The contactor alone: 89.00 + 65.25 + 88.07 + 25.16 - 44.50 + 5.38 of tax. Nothing is a second
    // task any more, and the way in is paid by it alone.
    expect(amounts(part)).toEqual({
      'visit_fee visit_fee': 8_900,
      'part CON-2P-30-24': 6_525,
      'labor replace_contactor': 8_807,
      'access outdoor_unit_cabinet': 2_516,
      'credit visit_fee_credit': -4_450,
      'tax tax': 538,
    });
    expect(part.body.options[0].totalCents).toBe(22_836);
    const issued = await issueQuote(service, part);
    const accepted = await acceptQuote(service, issued);
    expect(accepted.body.acceptance).toMatchObject({ revision: 2, totalCents: 22_836 });
  });

  it('does not let the larger paper be accepted once the smaller one is issued', async () => {
    const { capacitor, quote } = await offered();
    const part = tagged(expectStatus(await choose(quote, [capacitor]), 200));
    const issued = await issueQuote(service, part);
    const answer = await sendTo(service, { body: quote.body, tag: issued.tag }, 'accept', {
      ...yesTo(quote),
    });
    expectProblem(answer, 'shown-content-changed');
  });

  it('keeps what was taken off a line that stays, and drops what was aimed at one that goes', async () => {
    const { job, capacitor, contactor, quote } = await offered();
    const lines: { key: string; code: string }[] = quote.body.options[0].lines;
    const keyOf = (code: string) => lines.find((line) => line.code === code)?.key;
    const adjusted = await service.as('technician').post('/v1/quotes', {
      visitId: job.visitId,
      options: [
        {
          title: 'Both',
          findingIds: [capacitor, contactor],
          adjustments: [
            { aimedAt: keyOf('CON-2P-30-24'), amountCents: -100, reason: 'A scratch on it.' },
            { aimedAt: keyOf('CAP-45-5-440'), amountCents: -200, reason: 'The box was open.' },
            { aimedAt: keyOf('outdoor_unit_cabinet'), amountCents: -50, reason: 'It was open.' },
          ],
        },
      ],
    });
    const both = await issueQuote(service, tagged(expectStatus(adjusted, 201)));
    const part = tagged(expectStatus(await choose(both, [contactor]), 200));
    const kept = part.body.options[0].lines.filter(
      ({ kind }: { kind: string }) => kind === 'adjustment',
    );
    expect(kept.map(({ amountCents }: { amountCents: number }) => amountCents).sort()).toEqual([
      -100, -50,
    ]);
    // 89.00 + 64.25 + 88.07 + 24.66 - 44.50 and 8.25 % of 64.25, which is 5.30.
    expect(part.body.options[0].totalCents).toBe(22_678);
  });

  it('is for some findings of an option, not for none, all or others', async () => {
    const { job, capacitor, contactor, quote } = await offered();
    const drain = await findPluggedDrain(service, job);
    const whole = expectProblem(await choose(quote, [contactor, capacitor]), 'price-refused');
    expect(whole.body.errors[0].code).toBe('whole_option');
    const other = expectProblem(await choose(quote, [contactor, drain]), 'unknown-reference');
    expect(other.body.errors[0].pointer).toBe('/findingIds/1');
    expectProblem(await choose(quote, []), 'validation-failed');
    const foreign = await offered();
    const ofOther = await choose(quote, [contactor], foreign.quote.body.options[0].id);
    expect(expectProblem(ofOther, 'unknown-reference').body.errors[0].pointer).toBe('/optionId');
  });

  it('comes before the answer: an answered quote has no part to choose', async () => {
    const { contactor, quote } = await offered();
    const accepted = await acceptQuote(service, quote);
    expect(
      expectProblem(await choose(accepted, [contactor]), 'not-allowed-now').body.currentState,
    ).toBe('accepted');
  });

  it('is given to a change order as well, which still has no fee and no credit', async () => {
    const job: Job = await arriveAtJob(service);
    const root = await acceptQuote(
      service,
      await issueQuote(
        service,
        await draftQuote(service, job, [await findCapacitor(service, job)]),
      ),
    );
    const contactor = await findWornContactor(service, job);
    const drain = await findPluggedDrain(service, job);
    const change = await offerChange(service, job, root, [contactor, drain]);
    const part = tagged(expectStatus(await choose(change, [drain]), 200));
    // 75.49 less 20 % for a second task, and the way in indoors.
    expect(part.body.options[0].totalCents).toBe(8_555);
    expect(part.body.declineTotalCents).toBe(0);
  });
});

describe('whatever was priced above', () => {
  it('comes out again from its stored inputs, word for word', async () => {
    expect(await assertReprices(service)).toBeGreaterThan(10);
  });
});
