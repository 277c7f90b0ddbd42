import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { paperOf } from '../harness/delivery.ts';
import { findPluggedDrain } from '../harness/findings.ts';
import { billSoldJob, cash, creditOf, issueInvoice, move, sendMoney } from '../harness/invoice.ts';
import { arriveAtJob, findCapacitor } from '../harness/job.ts';
import {
  createTestService,
  expectProblem,
  expectStatus,
  type TestService,
} from '../harness/test-service.ts';
import { noForm, type Offer, offerAtLink, visit, yesForm } from '../harness/visitor.ts';
import { closeTicket, declineAll, offer, offerPart } from '../harness/whole-job.ts';
import { acceptQuote } from '../harness/work.ts';
import { mailsOf, type ReadMail } from './mails-of.ts';
import { linkIn, only, siteWithMail } from './readers.ts';

// From the act to the reader: what is issued goes out by itself, and its link is answered.

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
});
afterAll(() => service.close());

describe('a quote', () => {
  let given: Offer;
  let mail: ReadMail;
  beforeAll(async () => {
    given = await offerAtLink(service, { site: await siteWithMail(service) });
    mail = only(await mailsOf(service));
  });

  test('goes out by itself to whoever approves it, with its paper and what it comes to', () => {
    const { number, options } = given.quote.body;
    expect(mail.to).toContain('winifred@example.com');
    expect(mail.subject).toBe(`Repair quote ${number} from Sparrowgate Home Comfort`);
    expect(mail.fileName).toBe(`quote-${number}-r1.pdf`);
    expect(mail.pdf.subarray(0, 5).toString()).toBe('%PDF-');
    for (const { title, totalCents } of options) {
      expect(mail.text).toContain(`${title}: $${(totalCents / 100).toFixed(2)}`);
    }
  });

  test('has the very file that everybody else is handed', async () => {
    const file = await service.app.inject({
      url: `/v1/papers/${await paperOf(service, given.job.ticketId, 'quote')}/file`,
      headers: { authorization: `Bearer ${service.staff.owner.token}` },
    });
    expect(mail.pdf.equals(file.rawPayload)).toBe(true);
  });

  test('is answered at the link in the mail, which nobody of our staff was told', async () => {
    const path = linkIn(mail) ?? '/';
    // The link that the technician made goes on opening beside it.
    expectStatus(await (await visit(service)).get(given.path), 303);
    const reader = await visit(service, { path });
    expectStatus(await reader.post(`${given.page}/accept`, yesForm(given)), 303);
    const quote = await service.as('owner').get(`/v1/quotes/${given.quote.body.id}`);
    expect(quote.body.acceptance).toMatchObject({ through: 'link', linkMadeBy: null });
    const links = await service.as('owner').get(`/v1/quotes/${given.quote.body.id}/links`);
    expect(links.body.items.map(({ madeBy }: { madeBy: object | null }) => madeBy)).toContain(null);
    const receipt = only(await mailsOf(service));
    expect(receipt.subject).toMatch(/^Quote \d+ accepted: receipt from /);
    expect(receipt.text).toContain('Agreed: Capacitor and drain');
    expect(linkIn(receipt)).toBeUndefined();
  });

  test('sent once more after its answer is a copy without a link', async () => {
    const paperId = await paperOf(service, given.job.ticketId, 'quote');
    const asked = await service
      .as('technician')
      .post(`/v1/papers/${paperId}/deliveries`, { to: 'occupant', channel: 'mail' });
    expect(expectStatus(asked, 201).body).toMatchObject({
      state: 'waiting',
      cause: 'asked',
      askedBy: { staffId: service.staff.technician.id },
    });
    const copy = only(await mailsOf(service));
    expect(linkIn(copy)).toBeUndefined();
    expect(copy.text).toContain('This is a copy to keep: this quote has been accepted.');
    const seen = await service.as('dispatcher').get(`/v1/deliveries/${asked.body.id}`);
    expect(seen.body).toMatchObject({ state: 'sent', sentTo: 'winifred@example.com' });
  });
});

test('a quote in Spanish goes out in Spanish, mail and paper', async () => {
  const { quote } = await offerAtLink(service, { site: await siteWithMail(service, 'es') });
  const mail = only(await mailsOf(service));
  expect(mail.language).toBe('es');
  expect(mail.subject).toBe(
    `Presupuesto de reparación ${quote.body.number} de Sparrowgate Home Comfort`,
  );
  expect(mail.fileName).toBe(`presupuesto-${quote.body.number}-r1.pdf`);
  expect(mail.text).toContain('Véalo y responda aquí:');
  // What our staff typed stays as it was typed.
  expect(mail.text.replace(/^[AB]\. .*$/gm, '')).not.toMatch(/\b(the|and|your|to)\b/i);
});

test('a no comes with its paper and what is owed', async () => {
  const offer = await offerAtLink(service, { site: await siteWithMail(service) });
  const reader = await visit(service, {
    path: linkIn(only(await mailsOf(service))) ?? '/',
  });
  expectStatus(await reader.post(`${offer.page}/decline`, noForm(offer)), 303);
  const mail = only(await mailsOf(service));
  expect(mail.subject).toMatch(/^Quote \d+ declined: paper from /);
  expect(mail.text).toMatch(/To pay for the visit: \$\d+\.\d\d\./);
});

test('work, bill and credit each reach whoever they are for', async () => {
  const invoice = await billSoldJob(service, await siteWithMail(service));
  const mails = await mailsOf(service);
  expect(mails.map(({ subject }) => subject.replace(/\d[\d.]*/g, '#'))).toEqual([
    'Repair quote # from Sparrowgate Home Comfort',
    'Quote # accepted: receipt from Sparrowgate Home Comfort',
    'What we found and did at # Thistle Court: record from Sparrowgate Home Comfort',
    'Invoice # from Sparrowgate Home Comfort: $#',
  ]);
  const credit = creditOf(invoice, 'labor', 500);
  expectStatus(await sendMoney(service, invoice, 'credit-memos', credit), 201);
  expect(only(await mailsOf(service)).subject).toMatch(/^Credit memo \d+ from .*: \$/);
});

test('a quote answered while its mail was written goes as a copy that says it was accepted', async () => {
  const given = await offerAtLink(service, { site: await siteWithMail(service) });
  let answered = false;
  const mails = await mailsOf(service, {
    atStep: async (step) => {
      if (step !== 'drawn' || answered) return;
      answered = true;
      await acceptQuote(service, given.quote);
    },
  });
  const quote = mails.find(({ subject }) => subject.startsWith('Repair quote'));
  expect(quote?.text).toContain('This is a copy to keep: this quote has been accepted.');
  expect(quote?.text).not.toMatch(/This is a copy to look at|If you say no/);
});

describe('an invoice mailed once more', () => {
  const again = async (invoiceId: string): Promise<ReadMail> => {
    const { rows } = await service.owner.query<{ id: string }>(
      'SELECT id FROM paper WHERE invoice_id = $1',
      [invoiceId],
    );
    const asked = await service
      .as('dispatcher')
      .post(`/v1/papers/${rows[0]?.id}/deliveries`, { to: 'payer', channel: 'mail' });
    expectStatus(asked, 201);
    return only(await mailsOf(service));
  };
  const dollars = (amountCents: number) => `$${(amountCents / 100).toFixed(2)}`;

  test.each([
    ['en', 'Total to pay: ', 'There is nothing to pay.', 'To pay, call'],
    ['es', 'Total a pagar: ', 'No hay nada que pagar.', 'Para pagar, llame'],
  ])('asks for what is still owed, and for nothing once it is settled (%s)', async (...said) => {
    const [language, toPay, nothing, how] = said;
    const issued = await billSoldJob(service, await siteWithMail(service, language));
    await mailsOf(service);
    const credit = creditOf(issued, 'labor', 500);
    const credited = await move(service, issued, 'credit-memos', credit);
    const paid = await move(service, credited.invoice, 'payments', cash(1_000));
    await mailsOf(service);
    const owed = paid.invoice.body.balanceCents;
    const partly = await again(issued.body.id);
    expect(partly.text).toContain(`${toPay}${dollars(owed)}`);
    expect(partly.text).toContain('$10.00');
    expect(partly.text).toContain(how);
    await move(service, paid.invoice, 'payments', cash(owed));
    await mailsOf(service);
    const settled = await again(issued.body.id);
    expect(settled.text).toContain(nothing);
    expect(settled.text).toContain(dollars(owed + 1_000));
    expect(settled.text).not.toContain(toPay);
    expect(settled.text).not.toContain(how);
  });

  test('says what we owe where more was paid than is owed', async () => {
    const issued = await billSoldJob(service, await siteWithMail(service));
    const { invoice } = await move(service, issued, 'payments', cash(issued.body.balanceCents));
    await move(service, invoice, 'credit-memos', creditOf(invoice, 'labor', 500));
    await mailsOf(service);
    const { text } = await again(issued.body.id);
    expect(text).toMatch(/^There is nothing to pay\. We owe you \$5\.\d\d\.$/m);
    expect(text).not.toContain('Total to pay');
  });
});

describe('the mails of a job that came to a no', () => {
  test('speak of no work, of no part and of no mending', async () => {
    const job = await arriveAtJob(service, await siteWithMail(service));
    const quote = await offer(service, job, [await findCapacitor(service, job)]);
    await declineAll(service, quote);
    await issueInvoice(service, await closeTicket(service, job, 'no'));
    const mails = await mailsOf(service);
    const record = mails.find(({ subject }) => subject.includes('record from'));
    expect(record?.subject).toMatch(/^What we found at /);
    expect(record?.text).not.toMatch(/part|and did|mended/);
    const invoice = mails.find(({ subject }) => subject.startsWith('Invoice'));
    expect(invoice?.text).not.toMatch(/our work/);
    expect(invoice?.text).toContain(`for job ${record?.text.match(/job (\d+)/)?.[1]} at `);
  });
});

test('a revision that was replaced before it went out goes to nobody', async () => {
  const job = await arriveAtJob(service, await siteWithMail(service));
  const capacitor = await findCapacitor(service, job);
  const both = await offer(service, job, [capacitor, await findPluggedDrain(service, job)]);
  await offerPart(service, both, [capacitor]);
  const mail = only(await mailsOf(service));
  expect(mail.subject).toContain('revision 2');
});

describe('where there is nowhere to send a paper', () => {
  test('nothing is queued for people without a mail address, and asking says so', async () => {
    const offer = await offerAtLink(service);
    expect(await mailsOf(service)).toEqual([]);
    const paperId = await paperOf(service, offer.job.ticketId, 'quote');
    const asked = await service
      .as('dispatcher')
      .post(`/v1/papers/${paperId}/deliveries`, { to: 'approver', channel: 'mail' });
    expectProblem(asked, 'not-allowed-now');
  });

  test('a technician sends no paper of somebody else’s ticket', async () => {
    const offer = await offerAtLink(service, { site: await siteWithMail(service) });
    const paperId = await paperOf(service, offer.job.ticketId, 'quote');
    const asked = await service
      .as('second_technician')
      .post(`/v1/papers/${paperId}/deliveries`, { to: 'approver', channel: 'mail' });
    expectProblem(asked, 'not-found');
    await mailsOf(service);
  });
});

test('a dead delivery is tried again by one of two who ask at once', async () => {
  const site = await siteWithMail(service);
  await offerAtLink(service, { site });
  await service.owner.query('UPDATE customer SET email = NULL WHERE id = $1', [site.customerId]);
  expect(await mailsOf(service)).toEqual([]);
  const dispatcher = service.as('dispatcher');
  const listed = await dispatcher.get('/v1/deliveries?state=dead&order=newest&limit=1');
  const [dead] = expectStatus(listed, 200).body.items;
  expect(dead).toMatchObject({
    reason: 'There is no mail address on file.',
    allowedActions: ['retry'],
    mayHaveArrived: false,
  });
  await service.owner.query(`UPDATE customer SET email = 'found@example.com' WHERE id = $1`, [
    site.customerId,
  ]);
  const path = `/v1/deliveries/${dead.id}/retry`;
  const tag = (await dispatcher.get(`/v1/deliveries/${dead.id}`)).headers['etag'] ?? '';
  const both = await Promise.all([1, 2].map(() => dispatcher.post(path, {}, { ifMatch: tag })));
  expect(both.map(({ status }) => status).sort()).toEqual([200, 412]);
  expect(only(await mailsOf(service)).to).toContain('found@example.com');
  const late = await dispatcher.get(`/v1/deliveries/${dead.id}`);
  expectProblem(
    await dispatcher.post(path, {}, { ifMatch: late.headers['etag'] ?? '' }),
    'not-allowed-now',
  );
});

test('whoever got a quote at a mistyped address reads nothing there once the office revokes that link', async () => {
  const site = await siteWithMail(service, 'en', 'mistyped@example.com');
  const { quote, job } = await offerAtLink(service, { site });
  const astray = linkIn(only(await mailsOf(service))) ?? '/';
  await service.owner.query(`UPDATE customer SET email = 'right@example.com' WHERE id = $1`, [
    site.customerId,
  ]);
  const dispatcher = service.as('dispatcher');
  const { items } = expectStatus(
    await dispatcher.get(`/v1/quotes/${quote.body.id}/links`),
    200,
  ).body;
  // The other one is the technician's, for no delivery.
  expect(items.map(({ deliveryId }: { deliveryId: string | null }) => deliveryId)).toContain(null);
  const link = only(items.filter((each: { deliveryId: string | null }) => each.deliveryId)) as {
    id: string;
    deliveryId: string;
  };
  const delivery = await dispatcher.get(`/v1/deliveries/${link.deliveryId}`);
  expect(delivery.body).toMatchObject({ sentTo: 'mistyped@example.com' });
  expectStatus(await (await visit(service)).get(astray), 303);
  expectStatus(await dispatcher.post(`/v1/quote-links/${link.id}/revoke`, {}), 200);
  expectStatus(await (await visit(service)).get(astray), 404);
  const paperId = await paperOf(service, job.ticketId, 'quote');
  const again = { to: 'approver', channel: 'mail' };
  expectStatus(await dispatcher.post(`/v1/papers/${paperId}/deliveries`, again), 201);
  const mail = only(await mailsOf(service));
  expect(mail.to).toContain('right@example.com');
  expectStatus(await (await visit(service)).get(linkIn(mail) ?? '/'), 303);
});
