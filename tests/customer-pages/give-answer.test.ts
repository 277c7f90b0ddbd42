import type { Response } from 'supertest';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { offerChange } from '../harness/change-order.ts';
import { findWornContactor } from '../harness/findings.ts';
import { atTime } from '../harness/fixed-clock.ts';
import { issueQuote, type QuoteAt, yesTo } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import {
  addConsumerRules,
  cancelForm,
  hiddenFields,
  makeLink,
  noForm,
  type Offer,
  type OfferOptions,
  offerAtLink,
  type Visitor,
  visit,
  yesForm,
} from '../harness/visitor.ts';
import { acceptQuote } from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await addConsumerRules(service);
});
afterAll(() => service.close());

interface Opened extends Offer {
  visitor: Visitor;
}

/** A fresh offer with its page open. */
async function open(options: OfferOptions = {}): Promise<Opened> {
  const offer = await offerAtLink(service, options);
  return { ...offer, visitor: await visit(service, offer) };
}

async function stateOf({ quote }: Offer) {
  return (await service.as('dispatcher').get(`/v1/quotes/${quote.body.id}`)).body;
}

async function recordOf({ quote }: Offer) {
  const { rows } = await service.owner.query(
    `SELECT language, content_hash, consent_text FROM quote_acceptance WHERE quote_id = $1`,
    [quote.body.id],
  );
  return rows;
}

/** The text that is agreed to, as it stands on a page. */
function shownText(page: string, id: string): string {
  return page.split(`id="${id}">`)[1]?.split('<')[0] ?? '';
}

async function entriesOf({ quote }: Offer) {
  const { rows } = await service.owner.query(
    `SELECT event, actor_kind, actor_id, changes::text FROM journal_entry
     WHERE subject_id = $1 AND event NOT IN ('quote.drafted', 'quote.issued')
     ORDER BY at, id`,
    [quote.body.id],
  );
  return rows;
}

/** A change to a quote that was accepted, at a site whose approver has a limit. */
async function offerSecond(approverLimitCents: number): Promise<{ change: Opened }> {
  const first = await open({ approverLimitCents });
  const accepted = await acceptQuote(service, first.quote);
  const contactor = await findWornContactor(service, first.job);
  const quote = await offerChange(service, first.job, accepted, [contactor]);
  const offer: Offer = { job: first.job, quote, ...(await makeLink(service, quote)) };
  return { change: { ...offer, visitor: await visit(service, offer) } };
}

const accept = ({ visitor, ...offer }: Opened, change: Record<string, string> = {}, at = 0) =>
  visitor.post(`${offer.page}/accept`, { ...yesForm(offer, at), ...change });

const noWithReason = (offer: Offer) => ({
  ...noForm(offer),
  reason: 'We want a second opinion.',
});

describe('a yes at the link', () => {
  it('names the option, the total and the fingerprint, with who, when, from where and in which words', async () => {
    const offer = await open();
    const page = await offer.visitor.get(offer.page);
    const [, consent = ''] = /id="accept-2-text">([^<]+)</.exec(page.text) ?? [];
    const answered = await accept(offer, {}, 1);
    expect(expectStatus(answered, 303).headers['location']).toBe(offer.page);
    const [, option] = offer.quote.body.options;
    const { rows } = await service.owner.query(
      `SELECT * FROM quote_acceptance WHERE quote_id = $1`,
      [offer.quote.body.id],
    );
    expect(rows).toEqual([
      expect.objectContaining({
        revision: 1,
        option_id: option.id,
        total_cents: option.totalCents,
        content_hash: offer.quote.body.contentHash,
        accepted_by_name: 'Winifred Ashgrove',
        consent_text: consent,
        accepted_at: service.clock.now(),
        recorded_by_id: null,
        link_id: offer.linkId,
        language: 'en',
        address: expect.stringMatching(/127\.0\.0\.1$/),
        beyond_limit_agreed_by: null,
      }),
    ]);
    expect(consent).toContain('“Option B: Only what stopped it” from quote');
    expect(await stateOf(offer)).toMatchObject({
      state: 'accepted',
      acceptance: { through: 'link' },
    });
  });

  it('to the Spanish page is a yes to the same quote, in the Spanish words that were shown', async () => {
    const offer = await open();
    const { text } = await offer.visitor.get(`${offer.page}?lang=es`);
    const fields = hiddenFields(text, `${offer.page}/accept`);
    expectStatus(await accept(offer, fields), 303);
    expect(await recordOf(offer)).toEqual([
      {
        language: 'es',
        content_hash: offer.quote.body.contentHash,
        consent_text: shownText(text, 'accept-1-text'),
      },
    ]);
    expect(shownText(text, 'accept-1-text')).toMatch(
      /^Acepto “Opción A: .* por \$290\.45 en total/,
    );
    expect((await offer.visitor.get(offer.page)).text).toContain('Usted dijo que sí');
  });

  it('is kept in the language it was read in, whatever another page has asked for meanwhile', async () => {
    const offer = await open();
    const { text } = await offer.visitor.get(offer.page);
    const other = await offerAtLink(service);
    await offer.visitor.get(other.path);
    await offer.visitor.get(`${other.page}?lang=es`);
    const fields = hiddenFields(text, `${offer.page}/accept`);
    const answered = expectStatus(await accept(offer, fields), 303);
    expect(await recordOf(offer)).toEqual([
      expect.objectContaining({ language: 'en', consent_text: shownText(text, 'accept-1-text') }),
    ]);
    expect(answered.headers['location']).toBe(`${offer.page}?lang=en`);
    const receipt = await offer.visitor.get(`${offer.page}?lang=en`);
    expect(receipt.text).toContain('You said yes');
    await offer.visitor.get(`${other.page}?lang=es`);
    const back = hiddenFields(receipt.text, `${offer.page}/cancel`);
    const cancelled = await offer.visitor.post(`${offer.page}/cancel`, {
      ...cancelForm(offer),
      ...back,
    });
    expectStatus(cancelled, 303);
    const { rows } = await service.owner.query(
      `SELECT notice_text FROM acceptance_cancellation WHERE quote_id = $1`,
      [offer.quote.body.id],
    );
    expect(rows).toEqual([{ notice_text: shownText(receipt.text, 'cancel-text') }]);
  });

  it('is on record as the customer’s own act, once', async () => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    expect(await entriesOf(offer)).toEqual([
      expect.objectContaining({
        event: 'quote.accepted',
        actor_kind: 'customer',
        actor_id: offer.linkId,
      }),
    ]);
  });

  it('leaves a receipt: what, for how much, by whom, when, and until when it may be cancelled', async () => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    const { text } = await offer.visitor.get(offer.page);
    for (const said of [
      'You said yes',
      'Option A: Capacitor and drain',
      '$290.45',
      'Winifred Ashgrove',
      'July 14, 2026, 1:00',
      'CDT',
      'Given on this page',
      'You may cancel until the end of July 17, 2026.',
      `${offer.quote.body.contentHash.slice(0, 4)} ${offer.quote.body.contentHash.slice(4, 8)}`,
    ]) {
      expect(text).toContain(said);
    }
    expect(text).not.toContain(`action="${offer.page}/accept"`);
    expect(text).not.toContain('Only what stopped it');
  });

  it('pressed twice, or sent six times at once, is one yes with one receipt', async () => {
    const offer = await open();
    const answers = await Promise.all(Array.from({ length: 6 }, () => accept(offer)));
    for (const each of [...answers, await accept(offer)]) expectStatus(each, 303);
    expect(await entriesOf(offer)).toHaveLength(1);
  });

  it('of two that differ leaves one; the other is told so and records nothing', async () => {
    const offer = await open();
    const answers = await Promise.all([accept(offer), accept(offer, {}, 1)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([303, 409]);
    const refused = answers.find(({ status }) => status === 409);
    expect(refused?.text).toContain('This quote has another answer already');
    expect(refused?.text).toContain('Nothing was recorded.');
    expect(refused?.text).toContain('You said yes');
    expect(await entriesOf(offer)).toHaveLength(1);
  });

  it.each([
    ['in another name', { name: 'Somebody Else' }],
    ['for another total', { total: '1' }],
  ])('does not stand for a second one %s: that is told so', async (_, change) => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    const second = expectStatus(await accept(offer, change), 409);
    expect(second.text).toContain('This quote has another answer already');
    expect(second.text).toContain('Winifred Ashgrove');
    expect(await entriesOf(offer)).toHaveLength(1);
  });

  it('and a no at once leave one of them', async () => {
    const offer = await open();
    const answers = await Promise.all([
      accept(offer),
      offer.visitor.post(`${offer.page}/decline`, noWithReason(offer)),
    ]);
    expect(answers.map(({ status }) => status).sort()).toEqual([303, 409]);
    expect(await entriesOf(offer)).toHaveLength(1);
  });
});

describe('what is not quite right comes back', () => {
  it('with what was typed kept and each mistake named where it is', async () => {
    const offer = await open();
    const { agree, ...rest } = yesForm(offer, 1);
    expect(agree).toBe('yes');
    const { text, status } = await offer.visitor.post(`${offer.page}/accept`, {
      ...rest,
      name: 'W'.repeat(201),
    });
    expect(status).toBe(422);
    expect(text).toContain('<title>Something is missing.');
    expect(text).toContain('<a href="#accept-2-name">Type your full name, up to 200 letters.</a>');
    expect(text).toContain('<a href="#accept-2-agree">Check the box if you agree to the text.</a>');
    expect(text).toContain(`value="${'W'.repeat(201)}"`);
    expect(text).toContain(
      'aria-describedby="accept-2-name-hint accept-2-name-wrong" aria-invalid="true"',
    );
    expect(text.match(/<details open/g)).toHaveLength(1);
    expect(await stateOf(offer)).toMatchObject({ state: 'issued', acceptance: null });
  });

  it.each([
    ['a total that was not shown', { total: '1' }, 412, 'This quote has changed'],
    ['a text that was not shown', { text: '0'.repeat(64) }, 412, 'The quote itself is the same'],
    ['the text of another language', { language: 'es' }, 412, 'El presupuesto es el mismo'],
    ['no text', { text: '' }, 412, 'The quote itself is the same'],
    ['no text of another quote', { text: '', hash: '0'.repeat(64) }, 412, 'This quote has changed'],
    ['a language that is none of ours', { language: 'fr' }, 422, 'We could not read that'],
    ['a total that is no number', { total: '1e3' }, 422, 'We could not read that'],
    ['a fingerprint of something else', { hash: '0'.repeat(64) }, 412, 'This quote has changed'],
    ['no fingerprint', { hash: '' }, 422, 'We could not read that'],
    ['an option that is none', { option: 'first' }, 422, 'We could not read that'],
    [
      'a field that the page does not have',
      { beyondLimitAgreedBy: 'Me' },
      422,
      'We could not read',
    ],
  ])('and a form that was tampered with records nothing: %s', async (_, change, status, says) => {
    const offer = await open();
    const refused = await accept(offer, change);
    expect(expectStatus(refused, status).text).toContain(says);
    expect(await stateOf(offer)).toMatchObject({ state: 'issued', acceptance: null });
    expect(await entriesOf(offer)).toEqual([]);
  });

  it('and one whose text is worded otherwise by now comes back with what was typed, unchecked', async () => {
    const offer = await open();
    const { text } = await offer.visitor.get(offer.page);
    const {
      language: _language,
      text: _text,
      ...before
    } = hiddenFields(text, `${offer.page}/accept`);
    for (const fields of [{ ...before }, { ...before, language: 'en', text: '1'.repeat(64) }]) {
      const refused = await offer.visitor.post(`${offer.page}/accept`, {
        ...fields,
        name: 'Zora Quill',
        agree: 'yes',
      });
      expect(expectStatus(refused, 412).text).toContain('The quote itself is the same');
      expect(refused.text).toContain('value="Zora Quill"');
      expect(refused.text).not.toContain(' checked');
      expect(refused.text).not.toContain('Something is missing');
    }
    expect(await stateOf(offer)).toMatchObject({ state: 'issued', acceptance: null });
    // A no agrees to no text, so a page of before says it as well.
    const { language: _of, ...no } = hiddenFields(text, `${offer.page}/decline`);
    const sent = { ...no, name: 'Zora Quill' };
    expectStatus(await offer.visitor.post(`${offer.page}/decline`, sent), 303);
    expect(await stateOf(offer)).toMatchObject({ state: 'declined' });
  });

  it('and a page of before is told what became of its quote meanwhile', async () => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    const { language: _language, text: _text, ...before } = yesForm(offer, 1);
    const refused = await offer.visitor.post(`${offer.page}/accept`, before);
    expect(expectStatus(refused, 409).text).toContain('This quote has another answer already');
  });

  it('and the option of another quote is none of this one', async () => {
    const [offer, other] = [await open(), await open()];
    const refused = await accept(offer, { option: other.quote.body.options[0].id });
    expect(expectStatus(refused, 422).text).toContain('We could not read that');
    expect(await stateOf(other)).toMatchObject({ state: 'issued' });
  });
});

describe('a name that is typed', () => {
  it.each(['.', 'W', '—', '٣٤', 'e\u0301', '\u3164\u3164', 'Ü.'])(
    'with fewer than two letters is no signature: %j',
    async (name) => {
      const offer = await open();
      const refused = expectStatus(await accept(offer, { name }), 422);
      expect(refused.text).toContain('href="#accept-1-name"');
      expect(await stateOf(offer)).toMatchObject({ state: 'issued' });
    },
  );

  it.each(['Bo', 'O. K.', '李明', '김 구', 'أمل', 'श्री', 'Ng', 'Ýr'])(
    'with two letters of any script is one: %s',
    async (name) => {
      const offer = await open();
      const no = { ...noForm(offer), name };
      expectStatus(await offer.visitor.post(`${offer.page}/decline`, no), 303);
      expect((await stateOf(offer)).decline.declinedByName).toBe(name);
    },
  );
});

describe('what nobody can see in a field', () => {
  it('is left out and no reason to refuse: a pasted zero-width space, a line ended twice', async () => {
    const offer = await open();
    const no = {
      ...noForm(offer),
      name: '\ufeffWinifred\u200b Ashgrove',
      reason: `${'x\r\n'.repeat(499)}\u200by\u000b`,
    };
    expectStatus(await offer.visitor.post(`${offer.page}/decline`, no), 303);
    expect((await stateOf(offer)).decline).toMatchObject({
      declinedByName: 'Winifred Ashgrove',
      reason: `${'x\n'.repeat(499)}y`,
    });
  });

  it('alone is a field left blank', async () => {
    const offer = await open();
    const no = { ...noForm(offer), reason: '\u200b\u2060' };
    expectStatus(await offer.visitor.post(`${offer.page}/decline`, no), 303);
    expect((await stateOf(offer)).decline.reason).toBeNull();
  });
});

describe('a form from elsewhere', () => {
  it.each([
    ['another site', { 'sec-fetch-site': 'cross-site' }],
    ['a neighbor', { 'sec-fetch-site': 'same-site' }],
    ['another origin, in an older browser', { origin: 'https://evil.example.com' }],
    ['nowhere', {}],
  ])('is refused although it brings the cookie: %s', async (_, headers) => {
    const offer = await open();
    for (const verb of ['accept', 'decline', 'cancel', 'leave']) {
      const refused = await offer.visitor.post(`${offer.page}/${verb}`, yesForm(offer), headers);
      expect(expectStatus(refused, 403).text).toContain('Please answer on this page itself');
    }
    expect(await stateOf(offer)).toMatchObject({ state: 'issued' });
  });

  it('is refused when it is too large or is no form, as a page', async () => {
    const { visitor, page } = await open();
    const large = await visitor.post(`${page}/accept`, { name: 'x'.repeat(17_000) });
    expect(expectStatus(large, 413).headers['content-type']).toBe('text/html; charset=utf-8');
    expect(large.text).toContain('We could not read that');
  });
});

describe('a no at the link', () => {
  it('is welcome with or without a reason, and its receipt says so', async () => {
    const offer = await open();
    expectStatus(await offer.visitor.post(`${offer.page}/decline`, noWithReason(offer)), 303);
    expectStatus(await offer.visitor.post(`${offer.page}/decline`, noWithReason(offer)), 303);
    const { text } = await offer.visitor.get(offer.page);
    for (const said of [
      'You said no',
      '$89.00',
      'Winifred Ashgrove',
      'We want a second opinion.',
    ]) {
      expect(text).toContain(said);
    }
    expect((await stateOf(offer)).decline).toMatchObject({ conditionLeft: null, through: 'link' });
    expect(await entriesOf(offer)).toEqual([
      expect.objectContaining({ event: 'quote.declined', actor_id: offer.linkId }),
    ]);
    const silent = await open();
    const no = { ...noForm(silent), reason: '' };
    expectStatus(await silent.visitor.post(`${silent.page}/decline`, no), 303);
    expect((await stateOf(silent)).decline.reason).toBeNull();
  });

  it('is still welcome when the prices have run out, and a yes no more', async () => {
    const offer = await open();
    const fresh = await atTime(service.clock, '2026-08-13T15:36:00Z', () =>
      makeLink(service, offer.quote),
    );
    await atTime(service.clock, '2026-08-14T05:00:00Z', async () => {
      const visitor = await visit(service, fresh);
      const page = await visitor.get(offer.page);
      expect(page.text).toContain('These prices have run out');
      expect(page.text).toContain('555-0100');
      expect(page.text).not.toContain(`action="${offer.page}/accept"`);
      const late = await visitor.post(`${offer.page}/accept`, yesForm(offer));
      expect(expectStatus(late, 409).text).toContain('The quote ran out before your answer came.');
      expectStatus(await visitor.post(`${offer.page}/decline`, noWithReason(offer)), 303);
    });
    expect(await stateOf(offer)).toMatchObject({ state: 'declined' });
  });
});

describe('a revision that was issued while the page was open', () => {
  function revise({ quote }: Offer): Promise<Response> {
    const { findingIds } = quote.body.options[1].lines[1];
    const options = [{ title: 'Another look', findingIds }];
    const ifMatch = quote.tag;
    return service
      .as('technician')
      .post(`/v1/quotes/${quote.body.id}/revise`, { options }, { ifMatch });
  }

  async function issueNext(offer: Offer): Promise<QuoteAt> {
    const revised = expectStatus(await revise(offer), 200);
    return issueQuote(service, { body: revised.body, tag: revised.headers['etag'] ?? '' });
  }

  /** The same, where the answer may have come first; any other refusal fails. */
  async function tryNext(offer: Offer): Promise<QuoteAt | undefined> {
    const revised = await revise(offer);
    if (cameLate(revised)) return undefined;
    const ifMatch = expectStatus(revised, 200).headers['etag'] ?? '';
    const path = `/v1/quotes/${offer.quote.body.id}/issue`;
    const issued = await service.as('technician').post(path, {}, { ifMatch });
    if (cameLate(issued)) return undefined;
    return { body: expectStatus(issued, 200).body, tag: issued.headers['etag'] ?? '' };
  }

  const cameLate = ({ status }: Response) => status === 409 || status === 412;

  it('makes the answer come back with what stands now, to be read again', async () => {
    const offer = await open();
    const next = await issueNext(offer);
    const late = [
      await accept(offer),
      await offer.visitor.post(`${offer.page}/decline`, noWithReason(offer)),
    ];
    for (const refused of late) {
      expect(expectStatus(refused, 412).text).toContain('This quote has changed');
      expect(refused.text).toContain('Nothing was recorded.');
      expect(refused.text).toContain('Another look');
      expect(refused.text).toContain(next.body.contentHash);
    }
    expect(await stateOf(offer)).toMatchObject({ state: 'issued', revision: 2 });
    expectStatus(await accept({ ...offer, quote: next }), 303);
  });

  it('is no different when it comes in the same moment: what is accepted is what was shown', async () => {
    for (let round = 1; round <= 10; round += 1) {
      const offer = await open();
      const [next, answered] = await Promise.all([tryNext(offer), accept(offer)]);
      expectStatus(answered, next === undefined ? 303 : 412);
      const { acceptance } = await stateOf(offer);
      if (next === undefined) {
        expect(acceptance).toMatchObject({ revision: 1, totalCents: 29_045 });
      } else {
        expect(acceptance).toBeNull();
        expectStatus(await accept({ ...offer, quote: next }), 303);
        expect((await stateOf(offer)).acceptance).toMatchObject({ revision: 2 });
      }
      const yeses = (await entriesOf(offer)).filter(({ event }) => event === 'quote.accepted');
      expect(yeses, `round ${round}`).toHaveLength(1);
    }
  });
});

describe('a quote that was taken back', () => {
  it('says so with whom to call, and takes no answer', async () => {
    const offer = await open();
    const path = `/v1/quotes/${offer.quote.body.id}/withdraw`;
    expectStatus(await service.as('technician').post(path, {}, { ifMatch: offer.quote.tag }), 200);
    const { text } = await offer.visitor.get(offer.page);
    expect(text).toContain('This quote was withdrawn');
    expect(text).toContain('href="tel:5550100"');
    expect(text).not.toContain('<details');
    // A no that cannot be said any more has no price.
    expect(text).not.toContain('You pay $89.00');
    expect(expectStatus(await accept(offer), 409).text).toContain('cannot be answered here now');
    expectStatus(await offer.visitor.post(`${offer.page}/decline`, noWithReason(offer)), 409);
    expect(await entriesOf(offer)).toEqual([expect.objectContaining({ event: 'quote.withdrawn' })]);
  });

  it('or whose link was revoked while the page was open takes none either', async () => {
    const offer = await open();
    const path = `/v1/quote-links/${offer.linkId}/revoke`;
    expectStatus(await service.as('dispatcher').post(path), 200);
    expectStatus(await accept(offer), 404);
    expect(await stateOf(offer)).toMatchObject({ state: 'issued' });
  });
});

describe('the limit of an approver', () => {
  it('is said at the option above it, with who has to agree, and holds when it is tried', async () => {
    const offer = await open({ approverLimitCents: 25_000 });
    const { text } = await offer.visitor.get(offer.page);
    expect(text).toContain('This is above $250.00, the most that you may agree to');
    expect(text).toContain('Leopold Ashgrove, who pays for this address, has to agree.');
    expect(text).not.toContain('id="accept-1-name"');
    expect(text).toContain('id="accept-2-name"');
    expect(expectStatus(await accept(offer), 409).text).toContain('Above what you may agree to');
    expect(await stateOf(offer)).toMatchObject({ state: 'issued' });
    expectStatus(await accept(offer, {}, 1), 303);
  });

  it('counts what was agreed to already, and says so where a second yes would go above it', async () => {
    const { change } = await offerSecond(31_000);
    const { text } = await change.visitor.get(change.page);
    expect(text).toContain(
      'With the $290.45 agreed to already, this goes above $310.00, the most that you may agree to',
    );
    expect(text).not.toContain('This is above');
    expect((await change.visitor.get(`${change.page}?lang=es`)).text).toContain(
      'Junto con los $290.45 ya aceptados, supera los $310.00',
    );
    const refused = await accept(change);
    expect(expectStatus(refused, 409).text).toContain('with whatever was agreed to already');
  });

  it('does not bind whoever pays', async () => {
    const offer = await open({ approverLimitCents: 25_000, holder: 'payer' });
    expect((await offer.visitor.get(offer.page)).text).not.toContain('This is above');
    expectStatus(await accept(offer), 303);
    expect(await stateOf(offer)).toMatchObject({ state: 'accepted' });
  });
});

describe('a yes that is taken back', () => {
  const cancel = (offer: Opened, change: Record<string, string> = {}) =>
    offer.visitor.post(`${offer.page}/cancel`, { ...cancelForm(offer), ...change });

  it('within its time is cancelled in the words that were shown, once', async () => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    const page = await offer.visitor.get(offer.page);
    const [, notice] = /id="cancel-text">([^<]+)</.exec(page.text) ?? [];
    for (const each of await Promise.all([cancel(offer), cancel(offer)])) expectStatus(each, 303);
    const { rows } = await service.owner.query(
      `SELECT notice_text, link_id FROM acceptance_cancellation WHERE quote_id = $1`,
      [offer.quote.body.id],
    );
    expect(rows).toEqual([{ notice_text: notice, link_id: offer.linkId }]);
    const { text } = await offer.visitor.get(offer.page);
    expect(text).toContain('You cancelled');
    expect(text).not.toContain(`action="${offer.page}/cancel"`);
    expect((await entriesOf(offer)).map(({ event }) => event)).toEqual([
      'quote.accepted',
      'acceptance.cancelled',
    ]);
  });

  it('by another name a second time is told that it was taken back already', async () => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    expectStatus(await cancel(offer), 303);
    const second = expectStatus(await cancel(offer, { name: 'Somebody Else' }), 409);
    expect(second.text).toContain('This quote has another answer already');
    expect(second.text).not.toContain('The time to cancel is over');
  });

  it('in a text that was not shown records nothing, and says what to do', async () => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    for (const [change, says] of [
      [{ text: '0'.repeat(64) }, 'The quote itself is the same'],
      [{ hash: '0'.repeat(64) }, 'This form is not for what was agreed'],
    ] as const) {
      const refused = expectStatus(await cancel(offer, change), 412);
      expect(refused.text).toContain(says);
      expect(refused.text).not.toContain('newer version');
    }
    expect((await stateOf(offer)).acceptance.cancellation).toBeNull();
  });

  it('after its time is refused, and the page offers it no more', async () => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    await atTime(service.clock, '2026-07-18T05:00:00Z', async () => {
      expect((await offer.visitor.get(offer.page)).text).not.toContain(`${offer.page}/cancel`);
      expect(expectStatus(await cancel(offer), 409).text).toContain('The time to cancel is over');
    });
  });

  it('needs the box to be checked', async () => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    const refused = await cancel(offer, { notice: '' });
    expect(expectStatus(refused, 422).text).toContain('href="#cancel-notice"');
  });
});

it('an answer our staff recorded is shown at the link as well', async () => {
  const offer = await open();
  const path = `/v1/quotes/${offer.quote.body.id}/accept`;
  const yes = yesTo(offer.quote);
  expectStatus(await service.as('technician').post(path, yes, { ifMatch: offer.quote.tag }), 200);
  expect((await offer.visitor.get(offer.page)).text).toContain('Recorded by our staff');
});

it('closing the quote on a device takes the cookie away, says so, and changes nothing else', async () => {
  const { visitor, page, path } = await open();
  const left = expectStatus(await visitor.post(`${page}/leave`, {}), 303);
  expect([...visitor.cookies]).toEqual([]);
  const { text } = expectStatus(await visitor.get(left.headers['location'] ?? ''), 200);
  expect(text).toContain('Closed on this device');
  expect(text).toContain('Your link opens it again.');
  expect(text).toContain('Questions? Call <a href="tel:5550100">');
  expectStatus(await visitor.get(page), 404);
  expectStatus(await visitor.get(path), 303);
  expectStatus(await visitor.get(page), 200);
});

describe('two links on one device', () => {
  it('never take each other’s answers: each form answers its own quote', async () => {
    const [first, second] = [await offerAtLink(service), await offerAtLink(service)];
    const visitor = await visit(service, first);
    expectStatus(await visitor.get(second.path), 303);
    expectStatus(await visitor.post(`${first.page}/accept`, yesForm(first)), 303);
    expectStatus(await visitor.post(`${second.page}/accept`, yesForm(second)), 303);
    const back = cancelForm(first);
    const refused = expectStatus(await visitor.post(`${second.page}/cancel`, back), 412);
    expect(refused.text).toContain('This form is not for what was agreed');
    expect(refused.text).not.toContain('This quote has changed');
    expectStatus(await visitor.post(`${first.page}/cancel`, back), 303);
    expect((await stateOf(first)).acceptance.cancellation).not.toBeNull();
    expect((await stateOf(second)).acceptance.cancellation).toBeNull();
  });

  it('are two pages, and the cookie of one opens the other never', async () => {
    const [first, second] = [await offerAtLink(service), await offerAtLink(service)];
    const visitor = await visit(service, first);
    expectStatus(await visitor.get(second.page), 404);
    const token = visitor.cookies.get(`__Host-q-${first.quote.body.number}`) ?? '';
    visitor.cookies.set(`__Host-q-${second.quote.body.number}`, token);
    expect(expectStatus(await visitor.get(second.page), 404).text).toContain(
      'There is no quote here',
    );
  });
});

describe('an answer after a long time', () => {
  it('is taken as long as the link lives: every look keeps the device let in for a day', async () => {
    const offer = await open();
    const page = await offer.visitor.get(offer.page);
    expect(String(page.headers['set-cookie'])).toContain(
      `__Host-q-${offer.quote.body.number}=${offer.token}; Max-Age=86400;`,
    );
    const nextMorning = new Date(service.clock.now().getTime() + 20 * 3_600_000);
    await atTime(service.clock, nextMorning, async () => {
      expectStatus(await accept(offer), 303);
    });
  });

  it('that comes when the device is let out says that nothing was recorded, and what to do', async () => {
    const offer = await open();
    offer.visitor.cookies.clear();
    const { text } = expectStatus(await accept(offer), 404);
    expect(text).toContain('<h1>Nothing was recorded.</h1>');
    expect(text).toContain('Open your link again');
    expect(await stateOf(offer)).toMatchObject({ state: 'issued' });
  });
});

describe('a link', () => {
  it('outlives its quote by two weeks, and says until when it opens', async () => {
    const offer = await open();
    expect((await offer.visitor.get(offer.page)).text).toContain(
      'Your link opens this page until August 28, 2026.',
    );
    await atTime(service.clock, '2026-08-28T04:59:59Z', async () => {
      expectStatus(await (await visit(service, offer)).get(offer.page), 200);
      expectStatus(await offer.visitor.post(`${offer.page}/decline`, noWithReason(offer)), 303);
    });
  });

  it('that nobody answered opens nothing from then on', async () => {
    const offer = await open();
    await atTime(service.clock, '2026-08-28T05:00:00Z', async () => {
      expectStatus(await (await visit(service)).get(offer.path), 404);
    });
  });

  it('shows the receipt for a year after a yes', async () => {
    const offer = await open();
    expectStatus(await accept(offer), 303);
    const yearOver = service.clock.now().getTime() + 365 * 86_400_000;
    await atTime(service.clock, new Date(yearOver - 1_000), async () => {
      const { text } = await (await visit(service, offer)).get(offer.page);
      expect(text).toContain('You said yes');
    });
    await atTime(service.clock, new Date(yearOver), async () => {
      expectStatus(await (await visit(service)).get(offer.path), 404);
    });
  });
});
