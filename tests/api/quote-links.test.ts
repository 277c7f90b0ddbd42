import { createHash, randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { offerChange } from '../harness/change-order.ts';
import { findWornContactor } from '../harness/findings.ts';
import { arriveAtJob, draftQuote, findCapacitor, yesTo } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import {
  addConsumerRules,
  cancelForm,
  makeLink,
  noForm,
  type Offer,
  offerAtLink,
  visit,
  yesForm,
} from '../harness/visitor.ts';
import { acceptQuote } from '../harness/work.ts';

let service: TestService;
let offer: Offer;
beforeAll(async () => {
  service = await createTestService();
  await addConsumerRules(service);
  offer = await offerAtLink(service);
});
afterAll(() => service.close());

const linksOf = (quoteId: string) => `/v1/quotes/${quoteId}/links`;

describe('a link', () => {
  it('has 256 bits that nobody can guess, and the database keeps only their hash', async () => {
    expect(offer.token).toMatch(/^[\w-]{43}$/);
    const { rows } = await service.owner.query(
      `SELECT to_jsonb(l)::text AS row, token_hash FROM quote_link l WHERE id = $1`,
      [offer.linkId],
    );
    expect(rows[0].token_hash).toEqual(createHash('sha256').update(offer.token).digest());
    expect(rows[0].row).not.toContain(offer.token);
  });

  it('stands nowhere else: not in the kept answer, not in the journal, not in the list', async () => {
    const { rows } = await service.owner.query(
      `SELECT (SELECT string_agg(k::text, '') FROM idempotency_key k) AS kept,
        (SELECT string_agg(j::text, '') FROM journal_entry j) AS journal`,
    );
    const listed = await service.as('technician').get(linksOf(offer.quote.body.id));
    for (const text of [rows[0].kept, rows[0].journal, listed.text]) {
      expect(text).toContain(offer.linkId);
      expect(text).not.toContain(offer.token);
    }
    expect(listed.text).not.toContain('url');
  });

  it('is told once: the same request again gets the same link without its address', async () => {
    const key = randomUUID();
    const other = await offerAtLink(service);
    const ask = () =>
      service.as('dispatcher').post(linksOf(other.quote.body.id), { holder: 'payer' }, { key });
    const [first, again] = [await ask(), await ask()];
    expect(expectStatus(first, 201).body.url).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/q\/[\w-]{43}$/);
    expect(expectStatus(again, 201).headers['idempotency-replayed']).toBe('true');
    expect(first.body.text).toContain(first.body.url);
    expect(again.body).toEqual({ ...first.body, url: null, text: null });
  });

  it('takes the place of the one its holder had; the other holder keeps theirs', async () => {
    const { quote, path, linkId } = await offerAtLink(service);
    const payer = await makeLink(service, quote, 'payer');
    const newer = await makeLink(service, quote, 'approver');
    const listed = await service.as('dispatcher').get(linksOf(quote.body.id));
    expect(
      listed.body.items.map(({ id, revokedAt }: { id: string; revokedAt: string | null }) => [
        id,
        revokedAt !== null,
      ]),
    ).toEqual([
      [newer.linkId, false],
      [payer.linkId, false],
      [linkId, true],
    ]);
    const someone = await visit(service);
    expectStatus(await someone.get(path), 404);
    for (const living of [payer, newer]) expectStatus(await someone.get(living.path), 303);
  });

  it('that was replaced is revoked in the journal too, once, by whoever made the new one', async () => {
    const { quote, linkId } = await offerAtLink(service);
    await makeLink(service, quote, 'approver');
    await makeLink(service, quote, 'payer');
    const { rows } = await service.owner.query(
      `SELECT event, actor_id, changes::jsonb FROM journal_entry WHERE subject_id = $1 ORDER BY id`,
      [linkId],
    );
    expect(rows.map(({ event }) => event)).toEqual(['quote_link.made', 'quote_link.revoked']);
    expect(rows[1]).toMatchObject({
      actor_id: service.staff.technician.id,
      changes: { after: { quoteId: quote.body.id, holder: 'approver' } },
    });
  });

  it('is made by one of two who make it at once, and by the other after that', async () => {
    const { quote } = await offerAtLink(service);
    const made = await Promise.all(
      Array.from({ length: 6 }, () =>
        service.as('owner').post(linksOf(quote.body.id), { holder: 'payer' }),
      ),
    );
    for (const each of made) expectStatus(each, 201);
    const { rows } = await service.owner.query(
      `SELECT count(*)::int AS living FROM quote_link
       WHERE quote_id = $1 AND holder = 'payer' AND revoked_at IS NULL`,
      [quote.body.id],
    );
    expect(rows[0].living).toBe(1);
  });

  it('is revoked once, and opens nothing from then on', async () => {
    const { linkId, path } = await offerAtLink(service);
    const revoke = () => service.as('dispatcher').post(`/v1/quote-links/${linkId}/revoke`);
    expect(expectStatus(await revoke(), 200).body.revokedAt).toBe(
      service.clock.now().toISOString(),
    );
    expectProblem(await revoke(), 'not-allowed-now');
    expectStatus(await (await visit(service)).get(path), 404);
  });

  it('is of an issued quote, and of an answered one as its receipt; never of a draft', async () => {
    const job = await arriveAtJob(service);
    const draft = await draftQuote(service, job, [await findCapacitor(service, job)]);
    const ask = (quoteId: string) =>
      service.as('technician').post(linksOf(quoteId), { holder: 'approver' });
    expect(expectProblem(await ask(draft.body.id), 'not-allowed-now').body.currentState).toBe(
      'draft',
    );
    const { quote } = await offerAtLink(service);
    const path = `/v1/quotes/${quote.body.id}/accept`;
    const yes = await service.as('technician').post(path, yesTo(quote), { ifMatch: quote.tag });
    expectStatus(yes, 200);
    const { url } = expectStatus(await ask(quote.body.id), 201).body;
    const page = await visit(service, { path: new URL(url).pathname });
    const receipt = await page.get(`/your-quote/${quote.body.number}`);
    expect(expectStatus(receipt, 200).text).toContain('Winifred Ashgrove');
  });

  it('of another technician’s quote is neither made nor seen nor revoked', async () => {
    const stranger = service.as('second_technician');
    const path = linksOf(offer.quote.body.id);
    expectProblem(await stranger.post(path, { holder: 'payer' }), 'not-found');
    expectProblem(await stranger.get(path), 'not-found');
    expectProblem(await stranger.post(`/v1/quote-links/${offer.linkId}/revoke`), 'not-found');
    expectProblem(await stranger.post(`/v1/quote-links/${randomUUID()}/revoke`), 'not-found');
  });
});

describe('who made a link', () => {
  it('is never a technician where it lets a payer say yes to any amount', async () => {
    const { quote } = await offerAtLink(service, { approverLimitCents: 25_000 });
    const path = linksOf(quote.body.id);
    const refused = await service.as('technician').post(path, { holder: 'payer' });
    expect(expectProblem(refused, 'forbidden').body.allowedRoles).toEqual(['dispatcher', 'owner']);
    expect((await service.as('owner').get(path)).body.items).toHaveLength(1);
    for (const office of ['dispatcher', 'owner'] as const) {
      expectStatus(await service.as(office).post(path, { holder: 'payer' }), 201);
    }
  });

  it('stands with every answer that came through it, because they could open it too', async () => {
    const madeAt = service.clock.now().toISOString();
    const { technician, dispatcher } = service.staff;
    const byTechnician = { staffId: technician.id, staffName: 'Tamsin Roake', madeAt };
    const byOffice = { staffId: dispatcher.id, staffName: 'Desmond Quillon', madeAt };
    const [mine, theirs] = [await offerAtLink(service), await offerAtLink(service)];
    service.clock.advance(60_000);
    await answerAt(mine, 'decline', noForm(mine));
    expect((await quoteNow(mine)).decline).toMatchObject({
      through: 'link',
      linkMadeBy: byTechnician,
    });
    service.clock.advance(-60_000);
    const payers = { ...theirs, ...(await makeLink(service, theirs.quote, 'payer')) };
    service.clock.advance(60_000);
    await answerAt(payers, 'accept', yesForm(payers));
    expect((await quoteNow(payers)).acceptance).toMatchObject({
      through: 'link',
      linkMadeBy: byOffice,
      cancellation: null,
    });
    await answerAt(theirs, 'cancel', cancelForm(theirs));
    expect((await quoteNow(theirs)).acceptance.cancellation).toMatchObject({
      through: 'link',
      linkMadeBy: byTechnician,
    });
    const listed = await service.as('owner').get(linksOf(theirs.quote.body.id));
    expect(listed.body.items.map(({ madeBy }: { madeBy: object }) => madeBy)).toEqual([
      { staffId: dispatcher.id, staffName: 'Desmond Quillon' },
      { staffId: technician.id, staffName: 'Tamsin Roake' },
    ]);
  });

  it('is nobody where our staff put the answer on record', async () => {
    const offer = await offerAtLink(service);
    const path = `/v1/quotes/${offer.quote.body.id}/accept`;
    const ifMatch = offer.quote.tag;
    expectStatus(await service.as('technician').post(path, yesTo(offer.quote), { ifMatch }), 200);
    const { acceptance } = await quoteNow(offer);
    expect(acceptance).toMatchObject({ through: 'staff', linkMadeBy: null });
  });
});

describe('whoever was replaced as the approver or payer of a site', () => {
  it.each([
    ['approver', { approverId: true }],
    ['payer', { payerId: true }],
  ] as const)('says neither yes nor no at the link they had: the %s', async (holder, roles) => {
    const offer = await offerAtLink(service, { holder, approverLimitCents: 25_000 });
    await replaceBySomebody(offer, roles, { approverLimitCents: 100_000 });
    const visitor = await visit(service, offer);
    for (const [verb, form] of [
      ['accept', yesForm(offer, 1)],
      ['decline', noForm(offer)],
    ] as const) {
      const refused = await visitor.post(`${offer.page}/${verb}`, form);
      expect(expectStatus(refused, 409).text).toContain('Nothing was recorded.');
    }
    expect(await quoteNow(offer)).toMatchObject({ state: 'issued', acceptance: null });
  });

  it('reads nothing there but that somebody else answers now, in either language', async () => {
    const offer = await offerAtLink(service);
    await replaceBySomebody(offer, BOTH);
    const visitor = await visit(service, offer);
    const { text } = expectStatus(await visitor.get(offer.page), 200);
    expect(text).toContain('Somebody else answers for this address now');
    expect(text).toContain('call <a href="tel:5550100">');
    for (const secret of [
      'Only what stopped it',
      '$290.45',
      offer.quote.body.contentHash,
      '<form',
    ]) {
      expect(text).not.toContain(secret);
    }
    expect((await visitor.get(`${offer.page}?lang=es`)).text).toContain(
      'Ahora otra persona responde por esta dirección',
    );
    const paper = expectStatus(await visitor.get(`${offer.page}/paper`), 303);
    expect(paper.headers['location']).toBe(offer.page);
  });

  it('learns nothing of what their successor answers: not that, not by whom, not why', async () => {
    const [yes, no] = [await offerAtLink(service), await offerAtLink(service)];
    for (const offer of [yes, no]) await replaceBySomebody(offer, BOTH);
    const before = await (await visit(service, yes)).get(yes.page);
    const [answered, refused] = [
      { ...yes, ...(await makeLink(service, yes.quote)) },
      { ...no, ...(await makeLink(service, no.quote)) },
    ];
    const name = 'Orla Penhaligon';
    await answerAt(answered, 'accept', { ...yesForm(answered), name });
    await answerAt(refused, 'decline', { ...noForm(refused), name, reason: 'We are moving out.' });
    for (const offer of [yes, no]) {
      const { text } = await (await visit(service, offer)).get(offer.page);
      expect(text.replaceAll(offer.page, yes.page)).toBe(before.text);
    }
  });

  it('does not keep whoever came after them from answering, nor the other holder', async () => {
    const [offer, other] = [
      await offerAtLink(service),
      await offerAtLink(service, { holder: 'payer' }),
    ];
    await replaceBySomebody(offer, { approverId: true });
    const next = { ...offer, ...(await makeLink(service, offer.quote)) };
    await answerAt(next, 'accept', { ...yesForm(next), name: 'Orla Penhaligon' });
    expect(await quoteNow(next)).toMatchObject({ state: 'accepted' });
    await replaceBySomebody(other, { approverId: true });
    await answerAt(other, 'accept', yesForm(other));
    expect(await quoteNow(other)).toMatchObject({ state: 'accepted' });
  });

  it('still has the receipt of the yes they gave themselves and takes it back, and nobody else’s', async () => {
    const [own, anothers] = [await offerAtLink(service), await offerAtLink(service)];
    await answerAt(own, 'accept', yesForm(own));
    const ifMatch = anothers.quote.tag;
    const path = `/v1/quotes/${anothers.quote.body.id}/accept`;
    const recorded = service.as('technician').post(path, yesTo(anothers.quote), { ifMatch });
    expectStatus(await recorded, 200);
    for (const offer of [own, anothers]) await replaceBySomebody(offer, BOTH);
    const visitor = await visit(service, anothers);
    expect((await visitor.get(anothers.page)).text).not.toContain(`${anothers.page}/cancel`);
    expectStatus(await visitor.post(`${anothers.page}/cancel`, cancelForm(anothers)), 409);
    expect((await quoteNow(anothers)).acceptance.cancellation).toBeNull();
    const { text } = await (await visit(service, own)).get(own.page);
    expect(text).toContain('You said yes');
    await answerAt(own, 'cancel', cancelForm(own));
    expect((await quoteNow(own)).acceptance.cancellation).not.toBeNull();
  });

  it('has that still when whoever came after them has a link of their own', async () => {
    const own = await offerAtLink(service);
    await answerAt(own, 'accept', yesForm(own));
    // A lost link is made anew, and what was said at the old one stays theirs at the new one.
    const again = { ...own, ...(await makeLink(service, own.quote)) };
    await replaceBySomebody(own, BOTH);
    const next = await makeLink(service, own.quote);
    expectStatus(await (await visit(service)).get(own.path), 404);
    expectStatus(await (await visit(service)).get(next.path), 303);
    const page = await (await visit(service, again)).get(again.page);
    expect(expectStatus(page, 200).text).toContain('You said yes');
    await answerAt(again, 'cancel', cancelForm(again));
    expect((await quoteNow(own)).acceptance.cancellation).not.toBeNull();
  });

  it('keeps what they answered, and is told no name and no figure of what came of it since', async () => {
    const [yes, no] = [await offerAtLink(service), await offerAtLink(service)];
    await answerAt(yes, 'accept', yesForm(yes));
    await answerAt(no, 'decline', noForm(no));
    for (const offer of [yes, no]) await replaceBySomebody(offer, BOTH);
    const next = { ...yes, ...(await makeLink(service, yes.quote)) };
    const successor = await visit(service, next);
    expect((await successor.get(next.page)).text).toContain('This was agreed to');
    expect((await successor.get(next.page)).text).not.toContain('You said yes');
    await answerAt(next, 'cancel', { ...cancelForm(next), name: 'Orla Penhaligon' });
    expect((await successor.get(next.page)).text).toContain('You cancelled');
    const { text } = await (await visit(service, yes)).get(yes.page);
    expect(text).toContain('This was cancelled');
    expect(text).toContain('What you agreed to');
    for (const secret of ['Orla Penhaligon', 'You cancelled', 'You owe']) {
      expect(text).not.toContain(secret);
    }
    const spanish = await (await visit(service, yes)).get(`${yes.page}?lang=es`);
    expect(spanish.text).toContain('Esto se canceló');
    const left = { conditionLeft: 'Off at the breaker.', dangerWarned: 'Water near the wires.' };
    const path = `/v1/quotes/${no.quote.body.id}/decline-notes`;
    expectStatus(await service.as('dispatcher').post(path, left), 201);
    const declined = await (await visit(service, no)).get(no.page);
    expect(declined.text).toContain('You said no');
    for (const secret of Object.values(left)) expect(declined.text).not.toContain(secret);
  });

  it('is not told of the changes that fell with the yes they take back', async () => {
    const own = await offerAtLink(service);
    await answerAt(own, 'accept', yesForm(own));
    await replaceBySomebody(own, BOTH);
    const worn = await findWornContactor(service, own.job);
    const added = await offerChange(service, own.job, own.quote, [worn]);
    await acceptQuote(service, added);
    await answerAt(own, 'cancel', cancelForm(own));
    const { text } = await (await visit(service, own)).get(own.page);
    expect(text).toContain('You cancelled');
    expect(text).not.toContain(`Quote ${added.body.number}`);
  });

  it('in one of two parts answers in the other one, for whoever pays without a limit', async () => {
    const [paying, deciding] = [
      await offerAtLink(service),
      await offerAtLink(service, { holder: 'payer' }),
    ];
    await replaceBySomebody(paying, { approverId: true }, { approverLimitCents: 25_000 });
    await answerAt(paying, 'accept', yesForm(paying));
    expect(await quoteNow(paying)).toMatchObject({ state: 'accepted' });
    await replaceBySomebody(deciding, { payerId: true }, { approverLimitCents: 25_000 });
    const visitor = await visit(service, deciding);
    expect((await visitor.get(deciding.page)).text).toContain('Orla Penhaligon, who pays');
    expectStatus(await visitor.post(`${deciding.page}/accept`, yesForm(deciding)), 409);
    await answerAt(deciding, 'accept', yesForm(deciding, 1));
    expect(await quoteNow(deciding)).toMatchObject({ state: 'accepted' });
  });

  it('cannot answer in the moment they are replaced either: the database looks once more', async () => {
    const offer = await offerAtLink(service);
    const visitor = await visit(service, offer);
    const [answer] = await Promise.all([
      visitor.post(`${offer.page}/accept`, yesForm(offer)),
      replaceBySomebody(offer, BOTH),
    ]);
    const { rows } = await service.owner.query(
      `SELECT event FROM journal_entry WHERE subject_id IN ($1, $2)
       AND event IN ('quote.accepted', 'site.changed') ORDER BY id`,
      [offer.quote.body.id, offer.job.siteId],
    );
    const stands = (await quoteNow(offer)).acceptance !== null;
    expect(stands).toBe(answer.status === 303);
    expect(rows).toHaveLength(stands ? 2 : 1);
  });
});

it('a link says a name only as long as its person is called so: nothing of it is left otherwise', async () => {
  const offer = await offerAtLink(service);
  const path = `/v1/customers/${offer.job.customerId}`;
  const ifMatch = (await service.as('dispatcher').get(path)).headers['etag'] ?? '';
  const erased = { name: 'Erased', phone: '555-0000' };
  expectStatus(await service.as('dispatcher').patch(path, erased, { ifMatch }), 200);
  const listed = await service.as('owner').get(linksOf(offer.quote.body.id));
  expect(listed.body.items).toMatchObject([{ holderName: 'Erased' }]);
  const { rows } = await service.owner.query(
    'SELECT to_jsonb(l)::text AS row FROM quote_link l WHERE id = $1',
    [offer.linkId],
  );
  expect(rows[0].row).not.toContain('Winifred');
});

async function quoteNow({ quote }: Offer) {
  const asked = await service.as('owner').get(`/v1/quotes/${quote.body.id}`);
  return expectStatus(asked, 200).body;
}

async function answerAt(
  offer: Offer,
  verb: 'accept' | 'decline' | 'cancel',
  form: Record<string, string>,
): Promise<void> {
  const visitor = await visit(service, offer);
  expectStatus(await visitor.post(`${offer.page}/${verb}`, form), 303);
}

/** The parts of whoever decides about their own site. */
const BOTH = { approverId: true, payerId: true } as const;

/** Somebody new takes the place, with whatever else the office changes then. */
async function replaceBySomebody(
  { job }: Offer,
  roles: { approverId?: true; payerId?: true },
  change: object = {},
): Promise<void> {
  const dispatcher = service.as('dispatcher');
  const somebody = { name: 'Orla Penhaligon', phone: '555-0177' };
  const { id } = expectStatus(await dispatcher.post('/v1/customers', somebody), 201).body;
  const path = `/v1/sites/${job.siteId}`;
  const ifMatch = (await dispatcher.get(path)).headers['etag'] ?? '';
  const places = Object.fromEntries(Object.keys(roles).map((role) => [role, id]));
  expectStatus(await dispatcher.patch(path, { ...places, ...change }, { ifMatch }), 200);
}
