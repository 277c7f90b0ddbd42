import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { paperOf } from '../harness/delivery.ts';
import { atTime } from '../harness/fixed-clock.ts';
import { addSite } from '../harness/job.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { noForm, type Offer, offerAtLink, visit, yesForm } from '../harness/visitor.ts';
import { mailsOf } from './mails-of.ts';
import { linkIn, only, siteWithMail } from './readers.ts';

// Between the act and its mail time passes: a server is away, the office changes an address, the
// quote is answered by another way. What goes out is true when it goes out.

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

const offered = async (language = 'en'): Promise<Offer> =>
  offerAtLink(service, { site: await siteWithMail(service, language) });

/** Why the newest delivery is dead. */
async function whyDead(): Promise<{ reason: string; sentTo: string | null }> {
  const path = '/v1/deliveries?state=dead&order=newest&limit=1';
  return expectStatus(await service.as('dispatcher').get(path), 200).body.items[0];
}

async function answer(given: Offer, form: (offer: Offer) => Record<string, string>, way: string) {
  const reader = await visit(service, { path: given.path as `/${string}` });
  expectStatus(await reader.post(`${given.page}/${way}`, form(given)), 303);
}

async function withdraw(given: Offer): Promise<void> {
  const technician = service.as('technician');
  const path = `/v1/quotes/${given.quote.body.id}`;
  const ifMatch = (await technician.get(path)).headers['etag'] ?? '';
  expectStatus(await technician.post(`${path}/withdraw`, {}, { ifMatch }), 200);
}

/** Makes a newer revision, which stays a draft. */
async function draftAnew(given: Offer): Promise<void> {
  const technician = service.as('technician');
  const path = `/v1/quotes/${given.quote.body.id}`;
  const ifMatch = (await technician.get(path)).headers['etag'] ?? '';
  const options = [{ title: 'Nothing for now', findingIds: [] }];
  expectStatus(await technician.post(`${path}/revise`, { options }, { ifMatch }), 200);
}

async function askOnceMore(given: Offer): Promise<void> {
  const paperId = await paperOf(service, given.job.ticketId, 'quote');
  const to = { to: 'approver', channel: 'mail' };
  expectStatus(await service.as('dispatcher').post(`/v1/papers/${paperId}/deliveries`, to), 201);
}

describe('the person', () => {
  test('whose address is changed meanwhile gets it at the new one', async () => {
    const { job } = await offered();
    await service.owner.query(`UPDATE customer SET email = 'new@example.com' WHERE id = $1`, [
      job.customerId,
    ]);
    const mail = only(await mailsOf(service));
    expect(mail.to).toContain('new@example.com');
    const sent = await service.as('dispatcher').get(`/v1/deliveries/${mail.deliveryId}`);
    expect(sent.body).toMatchObject({ state: 'sent', sentTo: 'new@example.com' });
  });

  test.each([null, '', ' '])(
    'who is erased meanwhile gets nothing, and no address is kept (%j)',
    async (email) => {
      const { job } = await offered();
      await service.owner.query(`UPDATE customer SET name = 'erased', email = $2 WHERE id = $1`, [
        job.customerId,
        email,
      ]);
      expect(await mailsOf(service)).toEqual([]);
      expect(await whyDead()).toMatchObject({
        reason: 'There is no mail address on file.',
        sentTo: null,
      });
    },
  );

  test('who is erased after it went out leaves no address behind', async () => {
    await offered();
    const { deliveryId } = only(await mailsOf(service));
    await service.db.prisma.deliveryState.update({
      where: { deliveryId },
      data: { sentTo: null },
    });
    const { body } = await service.as('dispatcher').get(`/v1/deliveries/${deliveryId}`);
    expect(body).toMatchObject({ state: 'sent', sentTo: null });
  });

  test('who no longer decides for the site gets a copy without a link', async () => {
    const { job } = await offered();
    const other = await addSite(service);
    await service.owner.query('UPDATE site SET approver_id = $2 WHERE id = $1', [
      job.siteId,
      other.customerId,
    ]);
    const mail = only(await mailsOf(service));
    expect(linkIn(mail)).toBeUndefined();
    expect(mail.text).toContain('It cannot be answered from this mail');
  });
});

describe('a quote', () => {
  test('that is accepted meanwhile goes out as a copy that says so, beside the receipt', async () => {
    await answer(await offered(), yesForm, 'accept');
    const [copy, receipt] = await mailsOf(service);
    expect(copy?.text).toContain('This is a copy to keep: this quote has been accepted.');
    expect(copy?.text).not.toMatch(/\/q\/|If you say no|These prices stand/);
    expect(receipt?.subject).toMatch(/accepted: receipt/);
  });

  test('that is declined meanwhile does the same', async () => {
    await answer(await offered('es'), noForm, 'decline');
    const [copy] = await mailsOf(service);
    expect(copy?.text).toContain('este presupuesto no fue aceptado.');
    expect(copy?.text).not.toMatch(/\/q\/|Si dice que no/);
  });

  test('whose time is over when a server is back goes out as a copy that says so', async () => {
    const { quote } = await offered();
    const [mail] = await atTime(service.clock, quote.body.validUntil, () => mailsOf(service));
    expect(mail?.text).toContain('the time of these prices is over. For new ones call');
    expect(mail?.text).not.toMatch(/\/q\/|If you say no|These prices stand/);
  });

  test.each([
    ['goes out', []],
    ['is asked for once more', ['once more']],
  ])(
    'that our staff draft anew while it %s has a link, at which it is accepted',
    async (_, asked) => {
      const given = await offered();
      if (asked.length > 0) await mailsOf(service);
      await draftAnew(given);
      if (asked.length > 0) await askOnceMore(given);
      const link = linkIn(only(await mailsOf(service)));
      await answer({ ...given, path: link ?? '/' }, yesForm, 'accept');
      const { body } = await service.as('owner').get(`/v1/quotes/${given.quote.body.id}`);
      expect(body).toMatchObject({ state: 'accepted', acceptance: { through: 'link' } });
      // The receipt of the yes.
      only(await mailsOf(service));
    },
  );

  test('that is withdrawn meanwhile does not go out, and the office reads why', async () => {
    await withdraw(await offered());
    expect(await mailsOf(service)).toEqual([]);
    expect(await whyDead()).toMatchObject({
      reason: 'The quote was withdrawn before it was sent.',
    });
  });

  test('that was withdrawn and is asked for all the same is a copy that says so', async () => {
    const given = await offered();
    await mailsOf(service);
    await withdraw(given);
    await askOnceMore(given);
    const copy = only(await mailsOf(service));
    expect(copy.text).toContain('this quote no longer stands.');
    expect(linkIn(copy)).toBeUndefined();
  });
});
