import { expect } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import type {
  MoneyStep,
  Sheet,
  SheetDocument,
  SheetLine,
  SheetTax,
} from '../whole-tickets/sheets.ts';
import { draftQuote, issueQuote, type Job, type QuoteAt, type Site, yesTo } from './job.ts';
import { readInvoice } from './read-invoice.ts';
import { tagged } from './tagged.ts';
import { expectProblem, expectStatus, type TestService } from './test-service.ts';

/** A thing of the API with its tag: a ticket, a visit, an invoice. */
export type TaggedAnswer = QuoteAt;

interface ComparedLine {
  readonly kind: string;
  readonly class: string;
  readonly amountCents: number;
}

/** What an option and a document of an invoice have in common with a sheet. */
interface AnsweredCharges {
  readonly lines: readonly ComparedLine[];
  readonly taxCents: number;
  readonly totalCents: number;
}

/** Fails unless an option or a document of an invoice is the sheet's, to the cent. */
export function expectCharges(answered: AnsweredCharges, sheet: SheetDocument | undefined): void {
  if (sheet === undefined) throw new Error('the sheet has no such document');
  expect({
    lines: comparable(answered.lines),
    taxCents: answered.taxCents,
    totalCents: answered.totalCents,
  }).toEqual({
    lines: comparable(sheet.lines),
    taxCents: sheet.taxCents,
    totalCents: sheet.totalCents,
  });
}

/** Lines of nothing are not on a sheet, and the order of a sheet is a pencil's own. */
function comparable(lines: readonly ComparedLine[]): string[] {
  return lines
    .filter(({ kind, amountCents }) => kind !== 'tax' && amountCents !== 0)
    .map((line) => `${line.class} ${line.kind} ${line.amountCents}`)
    .sort();
}

let counties = 0;

/** A county of its own with a sheet's tax rule, and the name of it. */
export async function addCounty(service: TestService, tax: SheetTax): Promise<string> {
  counties += 1;
  const jurisdiction = `sheet_county_${counties}`;
  const rule = { ...taxRule, ...tax, jurisdiction };
  expectStatus(await service.as('owner').post('/v1/tax-rules', rule), 201);
  return jurisdiction;
}

/** A second system of a site with an outdoor unit like the first one's. */
export async function addSecondSystem(service: TestService, site: Site): Promise<Site> {
  const dispatcher = service.as('dispatcher');
  const { nameplate } = expectStatus(
    await dispatcher.get(`/v1/equipment/${site.outdoorId}`),
    200,
  ).body;
  const system = await dispatcher.post(`/v1/sites/${site.siteId}/systems`, { name: 'Upstairs' });
  const systemId = expectStatus(system, 201).body.id;
  const add = async (equipment: object): Promise<string> =>
    expectStatus(await dispatcher.post(`/v1/systems/${systemId}/equipment`, equipment), 201).body
      .id;
  return {
    ...site,
    systemId,
    outdoorId: await add({ kind: 'condensing_unit', nameplate }),
    indoorId: await add({ kind: 'air_handler', nameplate: { controlFuseAmps: 3 } }),
  };
}

/** Drafts and issues a quote of one option. */
export async function offer(
  service: TestService,
  job: Job,
  findingIds: string[],
): Promise<QuoteAt> {
  return issueQuote(service, await draftQuote(service, job, findingIds));
}

/** The customer wants some of what the only option offers: the next revision, issued. */
export async function offerPart(
  service: TestService,
  { body, tag }: QuoteAt,
  findingIds: string[],
): Promise<QuoteAt> {
  const wanted = { optionId: body.options[0].id, findingIds };
  const path = `/v1/quotes/${body.id}/partial-yes`;
  const drafted = await service.as('technician').post(path, wanted, { ifMatch: tag });
  return issueQuote(service, tagged(expectStatus(drafted, 200)));
}

/** The customer's yes to the only option of an issued quote. */
export async function acceptOnly(service: TestService, quote: QuoteAt): Promise<QuoteAt> {
  const path = `/v1/quotes/${quote.body.id}/accept`;
  const accepted = await service.as('technician').post(path, yesTo(quote), { ifMatch: quote.tag });
  return tagged(expectStatus(accepted, 200));
}

/** The customer's no. */
export async function declineAll(service: TestService, quote: QuoteAt): Promise<void> {
  const path = `/v1/quotes/${quote.body.id}/decline`;
  const said = { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off at the disconnect.' };
  expectStatus(await service.as('technician').post(path, said, { ifMatch: quote.tag }), 200);
}

/** Records that everything an accepted quote sold was done, and the parts that went in. */
export async function doAll(service: TestService, job: Job, accepted: QuoteAt): Promise<void> {
  const technician = service.as('technician');
  const { id: quoteId, options, acceptance } = accepted.body;
  const option = options.find(({ id }: { id: string }) => id === acceptance.optionId);
  const sold = option.lines.filter(({ kind }: SoldLine) => soldKinds.includes(kind));
  const findingIds = new Set<string>(sold.flatMap((line: SoldLine) => line.findingIds));
  for (const findingId of findingIds) {
    const done = { quoteId, findingId, outcome: 'done' };
    expectStatus(await technician.post(`/v1/visits/${job.visitId}/work-outcomes`, done), 201);
  }
  for (const { kind, key, findingIds, quantity, measured } of sold as SoldLine[]) {
    if (kind === 'labor') continue;
    const use = {
      quoteId,
      findingId: findingIds[0],
      partCode: key.split(':').at(-1),
      ...(quantity === null ? { measured } : { quantity }),
      oldPart: kind === 'part' ? 'given_to_customer' : 'none',
    };
    expectStatus(await technician.post(`/v1/visits/${job.visitId}/part-uses`, use), 201);
  }
}

const soldKinds = ['part', 'good', 'labor'];

interface SoldLine {
  readonly kind: string;
  readonly key: string;
  readonly findingIds: readonly string[];
  readonly quantity: number | null;
  readonly measured: string | null;
}

/** Weighs refrigerant into the outdoor unit. */
export async function charge(service: TestService, job: Job, ounces: number): Promise<void> {
  const weighed = {
    equipmentId: job.outdoorId,
    refrigerant: 'R-410A',
    direction: 'charged',
    cylinder: 'C-17',
    beforeOz: '400',
    afterOz: `${400 - ounces}`,
  };
  const path = `/v1/visits/${job.visitId}/refrigerant-moves`;
  expectStatus(await service.as('technician').post(path, weighed), 201);
}

/** Ends the visit, closes the ticket, and gives the draft of its invoice. */
export async function closeTicket(
  service: TestService,
  job: Job,
  complaintGone: 'yes' | 'no' = 'yes',
): Promise<TaggedAnswer> {
  const technician = service.as('technician');
  const finished = await technician.post(
    `/v1/visits/${job.visitId}/finish`,
    { ticketIs: 'work_complete' },
    { ifMatch: job.visitTag },
  );
  expectStatus(finished, 200);
  const ticket = await technician.get(`/v1/tickets/${job.ticketId}`);
  const closed = await technician.post(
    `/v1/tickets/${job.ticketId}/close`,
    {
      complaintGone,
      noReadingsWhy: 'What the sheet is about is the money.',
      conditionLeft: 'Running.',
    },
    { ifMatch: tagged(expectStatus(ticket, 200)).tag },
  );
  expectStatus(closed, 200);
  const invoices = await technician.get(`/v1/invoices?ticketId=${job.ticketId}&state=draft`);
  const [draft] = expectStatus(invoices, 200).body.items;
  return readInvoice(service, draft.id);
}

/** Issues the draft of an invoice, and fails unless it is the sheet's, before and after. */
export async function billAs(
  service: TestService,
  draft: TaggedAnswer,
  sheet: Sheet,
): Promise<TaggedAnswer> {
  expectInvoice(draft, sheet);
  const path = `/v1/invoices/${draft.body.id}/issue`;
  const issued = await service.as('dispatcher').post(path, {}, { ifMatch: draft.tag });
  const invoice = tagged(expectStatus(issued, 200));
  expectInvoice(invoice, sheet);
  expect(invoice.body).toMatchObject({
    number: expect.any(Number),
    state: sheet.invoiceTotalCents === 0 ? 'settled' : 'issued',
    balanceCents: sheet.invoiceTotalCents,
  });
  return invoice;
}

function expectInvoice({ body }: TaggedAnswer, sheet: Sheet): void {
  expect(body.documents.map(({ kind }: SheetDocument) => kind)).toEqual(
    sheet.documents.map(({ kind }) => kind),
  );
  for (const [at, document] of sheet.documents.entries()) {
    expectCharges(body.documents[at], document);
  }
  expect(body).toMatchObject({
    taxCents: sheet.documents.reduce((sum, { taxCents }) => sum + taxCents, 0),
    totalCents: sheet.invoiceTotalCents,
  });
}

/** Moves the money of a sheet, and fails unless each balance is the sheet's. */
export async function moveMoney(
  service: TestService,
  invoice: TaggedAnswer,
  money: readonly MoneyStep[],
): Promise<TaggedAnswer> {
  let now = invoice;
  for (const step of money) {
    await moveOnce(service, now, step);
    now = await readInvoice(service, invoice.body.id);
    expect(now.body).toMatchObject({
      balanceCents: step.balanceCents,
      state: step.balanceCents === 0 ? 'settled' : 'issued',
    });
  }
  return now;
}

/** Moves it once, after trying a cent more than there is to pay, to give back or to credit. */
async function moveOnce(
  service: TestService,
  { body, tag }: TaggedAnswer,
  step: MoneyStep,
): Promise<void> {
  const who = service.as(step.step === 'payment' ? 'technician' : 'owner');
  const path = `/v1/invoices/${body.id}/${pathOf[step.step]}`;
  const atMost = step.step === 'credit_memo' ? step.creditCents : Math.abs(body.balanceCents);
  const tooMuch = await who.post(path, requestOf(body, step, atMost + 1), { ifMatch: tag });
  expectProblem(tooMuch, 'above-balance');
  const amountCents = step.step === 'credit_memo' ? step.creditCents : step.amountCents;
  const moved = await who.post(path, requestOf(body, step, amountCents), { ifMatch: tag });
  expectStatus(moved, 201);
  if (step.step === 'credit_memo') {
    const { taxCents, totalCents } = step;
    expect(moved.body).toMatchObject({ taxCents, totalCents });
  }
  if (step.step === 'payment') {
    const receipt = await who.get(`/v1/payments/${moved.body.id}`);
    expect(expectStatus(receipt, 200).body).toMatchObject({
      amountCents,
      balanceAfterCents: step.balanceCents,
    });
  }
}

const pathOf = { payment: 'payments', refund: 'refunds', credit_memo: 'credit-memos' } as const;

function requestOf(invoice: TaggedAnswer['body'], step: MoneyStep, amountCents: number): object {
  if (step.step === 'credit_memo') {
    const lines = [{ ...lineOf(invoice, step.line), amountCents }];
    return { kind: 'correction', reason: 'Charged by mistake', lines };
  }
  const { method } = step;
  return { method, amountCents, ...(method === 'cash' ? {} : { reference: 'No. 4711' }) };
}

/** Finds the line of the invoice that a sheet means. */
function lineOf(invoice: TaggedAnswer['body'], line: SheetLine): { document: number; key: string } {
  for (const { position, lines } of invoice.documents) {
    const meant = lines.find(
      ({ kind, amountCents }: ComparedLine) =>
        kind === line.kind && amountCents === line.amountCents,
    );
    if (meant) return { document: position, key: meant.key };
  }
  throw new Error(`the invoice has no ${line.kind} of ${line.amountCents}`);
}
