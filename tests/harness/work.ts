import {
  draftQuote,
  findCapacitor,
  freeWindow,
  issueQuote,
  type Job,
  type QuoteAt,
  waitsForPart,
  yesTo,
} from './job.ts';
import { type Client, expectStatus, type TestService } from './test-service.ts';

type Answer = Awaited<ReturnType<Client['post']>>;

/** Accepts the first option of an issued quote. */
export async function acceptQuote(service: TestService, quote: QuoteAt): Promise<QuoteAt> {
  const path = `/v1/quotes/${quote.body.id}/accept`;
  const yes = await service.as('technician').post(path, yesTo(quote), { ifMatch: quote.tag });
  expectStatus(yes, 200);
  return { body: yes.body, tag: yes.headers['etag'] ?? '' };
}

/** A yes to a quote of these findings. */
export async function sell(service: TestService, job: Job, findingIds: string[]): Promise<QuoteAt> {
  const drafted = await draftQuote(service, job, findingIds);
  return acceptQuote(service, await issueQuote(service, drafted));
}

/** Work that was agreed to: a new capacitor. */
export interface Sold {
  quote: QuoteAt;
  quoteId: string;
  findingId: string;
}

/** A yes to a new capacitor. */
export async function sellCapacitor(service: TestService, job: Job): Promise<Sold> {
  const findingId = await findCapacitor(service, job);
  const quote = await sell(service, job, [findingId]);
  return { quote, quoteId: quote.body.id, findingId };
}

export const capacitor = { partCode: 'CAP-45-5-440', quantity: 1, oldPart: 'given_to_customer' };

/** Sends what was done; the sender looks at the answer. */
export function sendOutcome(
  service: TestService,
  visitId: string,
  { quoteId, findingId }: Pick<Sold, 'quoteId' | 'findingId'>,
  change: object = {},
): Promise<Answer> {
  const body = { quoteId, findingId, outcome: 'done', ...change };
  return service.as('technician').post(`/v1/visits/${visitId}/work-outcomes`, body);
}

/** Sends a part that went in; the sender looks at the answer. */
export function sendPart(
  service: TestService,
  visitId: string,
  { quoteId, findingId }: Pick<Sold, 'quoteId' | 'findingId'>,
  change: object = {},
): Promise<Answer> {
  const body = { quoteId, findingId, ...capacitor, ...change };
  return service.as('technician').post(`/v1/visits/${visitId}/part-uses`, body);
}

/** The new capacitor goes in and runs. */
export async function fitCapacitor(
  service: TestService,
  visitId: string,
  sold: Pick<Sold, 'quoteId' | 'findingId'>,
): Promise<void> {
  expectStatus(await sendPart(service, visitId, sold), 201);
  expectStatus(await sendOutcome(service, visitId, sold), 201);
}

/** Measures the supply when the work is done. */
export async function measureAfter(
  service: TestService,
  { visitId, outdoorId }: Pick<Job, 'visitId' | 'outdoorId'>,
): Promise<void> {
  const reading = {
    equipmentId: outdoorId,
    point: 'line_supply',
    quantity: 'voltage',
    value: 241,
    unit: 'V',
    method: 'multimeter',
    phase: 'left',
  };
  const path = `/v1/visits/${visitId}/readings`;
  expectStatus(await service.as('technician').post(path, { readings: [reading] }), 201);
}

/** Ends a visit. */
export async function finishVisit(
  service: TestService,
  visitId: string,
  ticketIs: 'work_complete' | 'waiting_for_answer' | 'waiting_for_part' = 'work_complete',
): Promise<void> {
  const path = `/v1/visits/${visitId}`;
  const technician = service.as('technician');
  const ifMatch = (await technician.get(path)).headers['etag'] ?? '';
  const body = ticketIs === 'waiting_for_part' ? waitsForPart : { ticketIs };
  expectStatus(await technician.post(`${path}/finish`, body, { ifMatch }), 200);
}

/** A ticket as the office sees it, with its tag. */
export async function ticketAt(service: TestService, ticketId: string): Promise<QuoteAt> {
  const ticket = expectStatus(await service.as('dispatcher').get(`/v1/tickets/${ticketId}`), 200);
  return { body: ticket.body, tag: ticket.headers['etag'] ?? '' };
}

export const closing = { complaintGone: 'yes', conditionLeft: 'Cooling; panels closed.' };

/** Sends the closing of a ticket as it stands; the sender looks at the answer. */
export async function sendClose(
  service: TestService,
  ticketId: string,
  change: object = {},
): Promise<Answer> {
  const { tag } = await ticketAt(service, ticketId);
  const path = `/v1/tickets/${ticketId}/close`;
  return service.as('technician').post(path, { ...closing, ...change }, { ifMatch: tag });
}

/** Sends that the same trouble is back; the sender looks at the answer. */
export async function sendReopen(service: TestService, ticketId: string): Promise<Answer> {
  const { tag } = await ticketAt(service, ticketId);
  const path = `/v1/tickets/${ticketId}/reopen`;
  const body = { complaint: 'It blows warm air again.' };
  return service.as('dispatcher').post(path, body, { ifMatch: tag });
}

/** Sends the booking of the next visit, told without a fee, into a window of its own. */
export function bookNext(
  service: TestService,
  ticketId: string,
  change: object = {},
): Promise<Answer> {
  return service.as('dispatcher').post('/v1/visits', {
    ticketId,
    technicianId: service.staff.technician.id,
    ...freeWindow(),
    feeDisclosure: { toldFeeCents: 0, agreedBy: 'Winifred Ashgrove' },
    ...change,
  });
}

/** Books the next visit for a purpose and arrives at it. */
export async function comeBack(
  service: TestService,
  job: Job,
  purpose: 'return' | 'callback',
): Promise<Job> {
  const booked = expectStatus(await bookNext(service, job.ticketId, { purpose }), 201);
  const path = `/v1/visits/${booked.body.id}`;
  let visitTag = booked.headers['etag'] ?? '';
  for (const verb of ['start-travel', 'arrive']) {
    const moved = await service.as('technician').post(`${path}/${verb}`, {}, { ifMatch: visitTag });
    visitTag = expectStatus(moved, 200).headers['etag'] ?? '';
  }
  return { ...job, visitId: booked.body.id, visitTag };
}
