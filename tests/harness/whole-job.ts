import { expect } from 'vitest';
import { taxRule } from '../../seed/company.ts';
import type { SheetDocument, SheetTax } from '../whole-tickets/sheets.ts';
import { draftQuote, issueQuote, type Job, type QuoteAt, type Site, yesTo } from './job.ts';
import { expectStatus, type TestService } from './test-service.ts';

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

export function tagged({
  body,
  headers,
}: {
  // biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
  body: any;
  headers: Record<string, string>;
}): TaggedAnswer {
  return { body, tag: headers['etag'] ?? '' };
}
