import { randomUUID } from 'node:crypto';
import { z } from 'zod';
import { company, taxRule } from '../../seed/company.ts';
import { priceBook } from '../../seed/price-book.ts';
import type { Route } from '../../src/platform/http/route.ts';
import { photoOf } from '../harness/photos.ts';
import { billOf, tansy } from '../harness/shop.ts';
import type { World } from './build-world.ts';

type Schema = z.core.JSONSchema.BaseSchema;
type Fields = Readonly<Record<string, unknown>>;

/** What goes with the address of a request. */
export interface Sent {
  query: string;
  body?: { mediaType: string; content: string | Uint8Array };
}

/**
 * What a request to a route sends so that its form is in order: what has to be given, and what
 * stands in `written` where no form says what fits.
 * @throws Error where that is not in order
 */
export function sentTo(route: Route, world: World): Sent {
  const asked = Object.entries(inOrder(route, route.query, queries));
  const query = new URLSearchParams();
  for (const [name, each] of asked) query.set(name, String(each));
  return { query: `${query}`, ...bodyOf(route, world) };

  function inOrder(of: Route, schema: z.ZodType, by: Written): Fields {
    const fields = { ...sampleFields(schema), ...by[of.operationId]?.(world) };
    const { error } = schema.safeParse(fields);
    if (error === undefined) return fields;
    throw new Error(
      `what is sent to ${of.operationId} is not in order; write it down in tests/access/sent.ts: ` +
        z.prettifyError(error),
    );
  }

  function bodyOf(of: Route, at: World): Pick<Sent, 'body'> {
    if (!('body' in of)) return {};
    const file = of.kind === 'act' && of.consumes ? files[of.operationId] : undefined;
    if (of.kind === 'act' && of.consumes !== undefined) {
      if (file !== undefined) return { body: file(at) };
      throw new Error(`${of.operationId} takes a file; write one down in tests/access/sent.ts`);
    }
    const content = JSON.stringify(inOrder(of, of.body, bodies));
    return { body: { mediaType: 'application/json', content } };
  }
}

type Written = Readonly<Record<string, (world: World) => Fields>>;

const csv = (content: string) => ({ mediaType: 'text/csv', content });

const files: Readonly<Record<string, (world: World) => NonNullable<Sent['body']>>> = {
  addPhoto: () => ({ mediaType: 'image/jpeg', content: photoOf('the same can once more') }),
  importBills: () => csv(importedFile),
  loadSupplierBills: () => csv(billsFile),
  replacePriceBookDraftList: () => csv('up_to,factor\r\n,2\r\n'),
};

const importedFile = [
  'date,technician,complaint,found,done,parts,hours,arrived,left,fee,labor,tax,charged',
  '2025-07-04,,,,replaced capacitor,,,,,,,,700.00',
].join('\r\n');
const billsFile = [
  'supplier,number,billed_on,place,part_code,description,quantity,amount,other_charges,total',
  `${tansy},F-9,2026-07-02,Shelves,FLOAT-1,,2,23.10,,23.10`,
].join('\r\n');

const period = () => ({ from: '2026-07-01', to: '2026-07-31' });

const queries: Written = {
  getLastGood: ({ ids }) => ({ equipmentId: ids['equipmentId'] }),
  importBills: () => ({ origin: 'other_company', fileName: '2024.csv' }),
  listPapers: ({ ids }) => ({ ticketId: ids['ticketId'] }),
  getAudit: period,
  getAuditPlot: period,
};

const pieces = { partCode: 'CAP-45-5-440', quantity: 1 };
const levels = { reorderAt: '1', orderUpTo: '4' };
const dayInJuly = '2026-07-20';

const bodies: Written = {
  addAgreement: () => ({ planCode: 'two_visits', startsOn: dayInJuly, endsOn: '2027-07-20' }),
  addCustomer: () => ({ name: 'Peregrine Holt', phone: '555-0155' }),
  addFinding: ({ ids }) => ({ equipmentId: ids['equipmentId'] }),
  addStockTarget: () => ({ partCode: 'FLOAT-1', ...levels }),
  addTaxRule: () => ({ ...taxRule, effectiveFrom: '2040-01-01' }),
  answerPhoneCheck: () => ({ questionCode: 'gas_smell', answer: 'no' }),
  beginPriceBookDraft: () => ({ from: 'in_force' }),
  bookVisit: ({ ids }) => ({
    ...{ ticketId: ids['ticketId'], technicianId: ids['technicianId'] },
    ...windowLater,
  }),
  changeStockTarget: () => levels,
  closeTicket: () => ({ conditionLeft: 'Cooling.' }),
  countPart: () => ({ partCode: 'FLOAT-1' }),
  enterSupplierBill: ({ shop }) => billOf(shop.shelvesId, billLine),
  inviteStaff: () => ({
    ...{ name: 'Marlow Finch', email: 'marlow@sparrowgate.example.com', role: 'technician' },
  }),
  moveRefrigerant: ({ ids }) => ({
    ...{ equipmentId: ids['equipmentId'], refrigerant: 'R-410A', direction: 'recovered' },
    ...{ cylinder: 'C-8', beforeOz: '10', afterOz: '12' },
  }),
  openMaintenance: () => ({ dueMonth: '2026-09' }),
  publishPriceBook: () => ({ ...priceBook, effectiveFrom: '2040-01-01T00:00:00Z' }),
  rebookVisit: ({ ids }) => ({ technicianId: ids['technicianId'] }),
  recordObservations: ({ ids }) => ({
    observations: [{ equipmentId: ids['equipmentId'], code: 'outdoor_fan_running', answer: 'no' }],
  }),
  recordReadings: ({ ids }) => ({
    readings: [
      {
        ...{ equipmentId: ids['equipmentId'], point: 'line_supply', method: 'multimeter' },
        ...{ quantity: 'voltage', value: 241, unit: 'V' },
      },
    ],
  }),
  recordPartLeftOver: ({ sold }) => ({ ...soldIds(sold), ...pieces }),
  recordPartUse: ({ sold }) => ({ ...soldIds(sold), ...pieces }),
  recordWorkOutcome: ({ sold }) => soldIds(sold),
  setUpCompany: () => ({ ...company }),
  tryRates: () => priceBook.rates,
  usePart: ({ ids }) => ({ visitId: ids['visitId'], partCode: 'FLOAT-1' }),
  bringBackPart: ({ ids }) => ({ visitId: ids['visitId'], partCode: 'FLOAT-1' }),
};

const billLine = { partCode: 'FLOAT-1', quantity: '2', amountCents: 2_310 };
const windowLater = { windowStart: '2031-03-03T18:00:00Z', windowEnd: '2031-03-03T20:00:00Z' };

function soldIds({ quoteId, findingId }: World['sold']): Fields {
  return { quoteId, findingId };
}

/** Fields that have to be given, as their schema has them. */
function sampleFields(schema: z.ZodType): Fields {
  const known = published.get(schema);
  const json = known ?? z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' });
  published.set(schema, json);
  const sample = sampleOf(json);
  return typeof sample === 'object' && sample !== null ? { ...sample } : {};
}

const published = new WeakMap<z.ZodType, Schema>();

function sampleOf(schema: Schema): unknown {
  const [choice] = schema.anyOf ?? schema.oneOf ?? [];
  if (choice !== undefined) return sampleOf(choice as Schema);
  if (schema.const !== undefined) return schema.const;
  if (schema.enum !== undefined) return schema.enum[0];
  switch (schema.type) {
    case 'object':
      return Object.fromEntries(
        (schema.required ?? []).map((name) => [
          name,
          sampleOf((schema.properties?.[name] ?? {}) as Schema),
        ]),
      );
    case 'array':
      return Array.from({ length: schema.minItems ?? 0 }, () =>
        sampleOf((schema.items ?? {}) as Schema),
      );
    case 'boolean':
      return true;
    case 'integer':
    case 'number':
      return Math.max(schema.minimum ?? 1, 1);
    default:
      return sampleText(schema);
  }
}

const texts = ['Somebody said so.', '1', 'CAP-45-5-440', 'quill_county', '0.5', '0'.repeat(64)];

function sampleText({ format, pattern }: Schema): string {
  if (format === 'uuid') return randomUUID();
  if (format === 'date-time') return '2026-07-20T18:00:00Z';
  if (format === 'date') return '2026-07-20';
  const fits = (text: string) => pattern === undefined || new RegExp(pattern, 'u').test(text);
  return texts.find(fits) ?? '';
}
