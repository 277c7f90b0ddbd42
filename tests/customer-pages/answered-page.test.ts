import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pastGuards } from '../audits/past-guards.ts';
import { readPageTexts } from '../documents/read-pdf.ts';
import { offerChange, sendTo } from '../harness/change-order.ts';
import { paperOf } from '../harness/delivery.ts';
import { findWornContactor } from '../harness/findings.ts';
import { addSite, arriveAtJob, draftQuote, issueQuote } from '../harness/job.ts';
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
  type Visitor,
  visit,
  yesForm,
} from '../harness/visitor.ts';
import { acceptQuote, finishVisit, ticketAt } from '../harness/work.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await addConsumerRules(service);
});
afterAll(() => service.close());

interface Opened extends Offer {
  visitor: Visitor;
}

async function open(): Promise<Opened> {
  const offer = await offerAtLink(service);
  return { ...offer, visitor: await visit(service, offer) };
}

/** What of a page is read aloud: its text without its marks. */
async function textAt({ visitor, page }: Opened, query = ''): Promise<string> {
  const { text } = expectStatus(await visitor.get(`${page}${query}`), 200);
  return text
    .replace(/<[^>]+>/g, ' ')
    .replace(/&#39;/g, "'")
    .replace(/\s+/g, ' ');
}

const decline = (offer: Opened) => offer.visitor.post(`${offer.page}/decline`, noForm(offer));

const cancel = (offer: Opened) => offer.visitor.post(`${offer.page}/cancel`, cancelForm(offer));

/** A contactor that was found after the yes to capacitor and drain, offered as a change. */
async function openChange(): Promise<{ first: Opened; change: Opened }> {
  const first = await open();
  const accepted = await acceptQuote(service, first.quote);
  const contactor = await findWornContactor(service, first.job);
  const quote = await offerChange(service, first.job, accepted, [contactor]);
  const offer: Offer = { job: first.job, quote, ...(await makeLink(service, quote)) };
  return { first, change: { ...offer, visitor: await visit(service, offer) } };
}

const dollars = (cents: number) => `$${(cents / 100).toFixed(2)}`;

describe('a yes to the visit alone', () => {
  it('is a receipt of the visit, and says of no work that it is agreed', async () => {
    const job = await arriveAtJob(service);
    const quote = await issueQuote(service, await draftQuote(service, job, []));
    const link = await makeLink(service, quote);
    const offer: Opened = { job, quote, ...link, visitor: await visit(service, link) };
    expectStatus(await offer.visitor.post(`${offer.page}/accept`, yesForm(offer)), 303);
    const text = await textAt(offer);
    expect(text).toContain('The visit is agreed, and no work. This is your receipt.');
    expect(text).not.toContain('The work is agreed');
    const file = await service.app.inject({
      url: `/v1/papers/${await paperOf(service, job.ticketId, 'acceptance')}/file`,
      headers: { authorization: `Bearer ${service.staff.owner.token}` },
    });
    const pages = await readPageTexts(new Uint8Array(file.rawPayload));
    const paper = pages.map(({ body }) => body).join(' ');
    expect(paper).toContain('The visit is agreed, and no work.');
    expect(paper).not.toContain('We do the work as it is written here.');
  });
});

describe('the page of a change order', () => {
  it('says what it changes, what both come to, and that a no leaves the first as it is', async () => {
    const { first, change } = await openChange();
    const text = await textAt(change);
    const number = first.quote.body.number;
    const [{ totalCents }] = change.quote.body.options;
    expect(text).toContain(`Change to quote ${number}`);
    expect(text).toContain(`Together with quote ${number}: ${dollars(29_045 + totalCents)}`);
    expect(text).toContain(`Nothing is added. Quote ${number} for $290.45 stands.`);
    expect(text).not.toMatch(/pay \$0\.00|Repair quote|for the visit/);
    const spanish = await textAt(change, '?lang=es');
    expect(spanish).toContain(`Cambio al presupuesto ${number}`);
    expect(spanish).toContain(`El presupuesto ${number} por $290.45 sigue vigente.`);
    expect(spanish).not.toMatch(/paga \$0\.00|Presupuesto de reparación|por la visita/);
  });

  it('has a receipt of a no that speaks of no fee, and of a yes that names the sum of both', async () => {
    const { first, change } = await openChange();
    const { number } = first.quote.body;
    expectStatus(await decline(change), 303);
    const no = await textAt(change);
    expect(no).toContain(`You said no Nothing is added. Quote ${number} for $290.45 stands.`);
    expect(no).not.toMatch(/For the visit/);
    const other = await openChange();
    const { change: agreed } = other;
    expectStatus(await agreed.visitor.post(`${agreed.page}/accept`, yesForm(agreed)), 303);
    const [{ totalCents }] = agreed.quote.body.options;
    expect(await textAt(agreed)).toContain(
      `Together with quote ${other.first.quote.body.number} ${dollars(29_045 + totalCents)}`,
    );
  });

  it('cannot be answered once what it changes was cancelled', async () => {
    const { first, change } = await openChange();
    expectStatus(await cancel(first), 303);
    const text = await textAt(change);
    expect(text).toContain('The quote this would change was cancelled');
    expect(text).not.toMatch(/stands\.|Accept for/);
    expectStatus(await change.visitor.post(`${change.page}/accept`, yesForm(change)), 409);
  });
});

describe('a yes that was taken back', () => {
  it('says what is owed, and what else fell with it; the full price stands there once', async () => {
    const { first, change } = await openChange();
    expectStatus(await change.visitor.post(`${change.page}/accept`, yesForm(change)), 303);
    expectStatus(await cancel(first), 303);
    const text = await textAt(first);
    const { number, options } = change.quote.body;
    expect(text).toContain(
      `The work that was agreed is cancelled. Quote ${number} for ${dollars(options[0].totalCents)}, ` +
        'a change to this one, is cancelled with it. You owe $89.00 for the visit.',
    );
    expect(text.match(/\$290\.45/g)).toHaveLength(1);
    expect(text).not.toContain('is credited');
  });
});

describe('a yes at the link', () => {
  it('says when by which clock, who calls next, and that coming back for the work has no second fee', async () => {
    const offer = await open();
    expectStatus(await offer.visitor.post(`${offer.page}/accept`, yesForm(offer)), 303);
    const text = await textAt(offer);
    expect(text).toContain(
      'This is your receipt. If our technician is still there, the work goes on now. If not, our ' +
        'office calls to agree on a time. Coming back to do this work has no second visit fee.',
    );
    // 18:00 UTC, by the clock of the company in summer.
    expect(text).toContain('When July 14, 2026, 1:00 PM CDT');
    const spanish = await textAt(offer, '?lang=es');
    expect(spanish).toContain('nuestra oficina llama para acordar la hora. Volver para hacer este');
    expect(spanish).toMatch(/14 de julio de 2026, 1:00 p\. ?m\. CDT/);
  });

  it('says nothing of what comes next where our staff took it, nor once the work is done', async () => {
    const told = await open();
    await acceptQuote(service, told.quote);
    expect(await textAt(told)).toContain('The work is agreed. This is your receipt.');
    expect(await textAt(told)).not.toContain('our office calls');
    const done = await open();
    expectStatus(await done.visitor.post(`${done.page}/accept`, yesForm(done)), 303);
    await pastGuards(
      service,
      ["UPDATE ticket SET state = 'work_complete' WHERE id = $1"],
      [done.job.ticketId],
    );
    expect(await textAt(done)).not.toContain('our office calls');
  });
});

describe('a no', () => {
  it('says before it is given that its prices are gone with it, and of another visit', async () => {
    const offer = await open();
    const gone = 'With a no, its prices are gone: to have the work done later, call us for a new';
    const fee = 'we tell you the fee of that visit before you book it.';
    const text = await textAt(offer);
    expect(text).toContain(
      'You owe $89.00 for the visit. You keep this quote. With a no, its prices',
    );
    expect(text).toContain(gone);
    expect(text).toContain(fee);
    const spanish = await textAt(offer, '?lang=es');
    expect(spanish).toContain('Con un no, sus precios ya no valen');
    expect(spanish).toContain('la tarifa de esa visita antes de que la reserve.');
    // A change is added while somebody is there; what is gone is gone all the same.
    const { change } = await openChange();
    expect(await textAt(change)).toContain(gone);
    expect(await textAt(change)).not.toContain(fee);
    // Prices that have run out are not gone by a no.
    service.clock.set('2027-07-14T18:00:00Z');
    const late = await makeLink(service, offer.quote);
    const visitor = await visit(service, late);
    const old = await textAt({ ...offer, ...late, visitor });
    service.clock.set('2026-07-14T18:00:00Z');
    expect(old).toContain('You keep this quote.');
    expect(old).not.toContain('With a no');
  });

  it('shows what was found, and how the system was left once our staff have said it', async () => {
    const offer = await open();
    expectStatus(await decline(offer), 303);
    const silent = await textAt(offer);
    expect(silent).toContain('What was found Weak or failed run capacitor');
    expect(silent).not.toContain('How we left the system');
    const path = `/v1/quotes/${offer.quote.body.id}/decline-notes`;
    const note = { conditionLeft: 'Off at the thermostat.', dangerWarned: 'Do not reset it.' };
    const noted = await service.as('technician').post(path, note);
    expect(expectStatus(noted, 201).body.decline).toMatchObject(note);
    const said = await textAt(offer);
    expect(said).toContain('How we left the system Off at the thermostat.');
    expect(said).toContain('We warned you Do not reset it.');
    expectProblem(await service.as('dispatcher').post(path, note), 'already-exists');
  });

  it('of another technician’s quote, and a quote nobody declined, take no such word', async () => {
    const offer = await open();
    const path = `/v1/quotes/${offer.quote.body.id}/decline-notes`;
    const note = { conditionLeft: 'Off.' };
    expectProblem(await service.as('second_technician').post(path, note), 'not-found');
    expectProblem(await service.as('technician').post(path, note), 'not-allowed-now');
    const no = { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Breaker off.' };
    expectStatus(await sendTo(service, offer.quote, 'decline', no), 200);
    expectProblem(await service.as('technician').post(path, note), 'already-exists');
    expect(await textAt(offer)).toContain('How we left the system Breaker off.');
  });

  it('says which of the two PDFs is the answer, and that the other is the quote before it', async () => {
    const offer = await open();
    expectStatus(await decline(offer), 303);
    const text = await textAt(offer);
    expect(text).toContain(
      'To keep your answer, save “Your no as a PDF” below. “The quote as a PDF” is as it was before you answered.',
    );
    expect(text).not.toContain('Your yes as a PDF');
    expect(text).not.toContain('The PDF is yours to keep');
  });

  it('is offered beside every yes, and each link opens its own form', async () => {
    const offer = await open();
    const { text } = await offer.visitor.get(offer.page);
    const links = [...text.matchAll(/href="([^"]+)#answer-(\w+)"/g)];
    expect(links.map(([, path, answer]) => [path, answer])).toEqual([
      [`${offer.page}?answer=no`, 'no'],
      [`${offer.page}?answer=1`, '1'],
      [`${offer.page}?answer=2`, '2'],
      [`${offer.page}?answer=no`, 'no'],
    ]);
    for (const [, path = '', answer] of links) {
      const page = await offer.visitor.get(path);
      const [, form = ''] = page.text.split(`<div id="answer-${answer}"`);
      expect(form.trim()).toMatch(/^class="answer">\s*<details open>/);
    }
  });

  it('has a link, and a yes above the limit has none', async () => {
    const limited = await offerAtLink(service, { approverLimitCents: 25_000 });
    const { text } = await (await visit(service, limited)).get(limited.page);
    expect(text).not.toContain('#answer-1"');
    expect(text).toContain('#answer-2"');
    expect(text).toContain('#answer-no"');
  });
});

describe('a quote whose ticket has ended', () => {
  it('says so as one that was withdrawn does, and has no form', async () => {
    const offer = await open();
    await finishVisit(service, offer.job.visitId, 'waiting_for_answer');
    const { tag } = await ticketAt(service, offer.job.ticketId);
    await service.owner.query(`SET session_replication_role = replica`);
    await service.owner.query(`UPDATE ticket SET state = 'cancelled' WHERE id = $1`, [
      offer.job.ticketId,
    ]);
    await service.owner.query(`SET session_replication_role = origin`);
    expect(tag).not.toBe('');
    const { text } = await offer.visitor.get(offer.page);
    expect(text).toContain('This quote can no longer be answered');
    expect(text).not.toContain('<details');
    const late = await offer.visitor.post(`${offer.page}/accept`, yesForm(offer));
    expect(expectStatus(late, 409).text).toContain('cannot be answered here now');
  });
});

describe('the page names', () => {
  it('its holder, and who lives there where that is somebody else', async () => {
    const site = await addSite(service);
    const owner = { name: 'Otis Bramwell', phone: '555-0142' };
    const { body } = expectStatus(await service.as('dispatcher').post('/v1/customers', owner), 201);
    const path = `/v1/sites/${site.siteId}`;
    const { headers } = await service.as('dispatcher').get(path);
    const ifMatch = { ifMatch: headers['etag'] ?? '' };
    const holders = { approverId: body.id, payerId: body.id };
    expectStatus(await service.as('dispatcher').patch(path, holders, ifMatch), 200);
    const offer = await offerAtLink(service, { site });
    const text = await textAt({ ...offer, visitor: await visit(service, offer) });
    expect(text).toMatch(
      /For Otis Bramwell, for the service at [^.]+, where Winifred Ashgrove lives/,
    );
  });

  it('parts and taxes in Spanish with their English names beside, and each limit once', async () => {
    const offer = await open();
    const text = await textAt(offer, '?lang=es');
    expect(text).toMatch(/Capacitor de marcha doble \([^)]+45[^)]+\)/);
    expect(text).toMatch(/Impuesto \([^)]+\), 8\.25% de/);
    expect(text.match(/40\.5/g)?.length).toBe(
      (await textAt(offer, '?lang=en')).match(/40\.5/g)?.length,
    );
    const { text: page } = await offer.visitor.get(offer.page);
    expect(page.replaceAll(/ aria-label="[^"]*"/g, '')).not.toContain('Allowed:');
    expect(page).not.toMatch(/\d x \$/);
  });
});
