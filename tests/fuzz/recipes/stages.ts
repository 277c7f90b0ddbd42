import {
  arriveAtJob,
  bookJob,
  draftQuote,
  findCapacitor,
  issueQuote,
  type Job,
  type QuoteAt,
} from '../../harness/job.ts';
import { readInvoice } from '../../harness/read-invoice.ts';
import { tagged } from '../../harness/tagged.ts';
import { expectStatus, type TestService } from '../../harness/test-service.ts';
import {
  acceptQuote,
  finishVisit,
  measureAfter,
  sendClose,
  sendOutcome,
  sendPart,
} from '../../harness/work.ts';
import type { World } from '../world.ts';

/**
 * Jobs by how far they have come. What one request did is where another goes on, so that in a run
 * jobs walk through their whole lives; only where none is at hand is one brought there.
 */
export interface Stock {
  travelling: Job[];
  onSite: Job[];
  /** The quote has come to nothing; what was found stands. */
  found: Omit<Found, 'quoteId'>[];
  drafted: Found[];
  issued: Found[];
  sold: Found[];
  closed: Job[];
  /** Closed, too: one ticket has a bill and can be opened again. */
  toBill: Job[];
  billed: string[];
  openedClaims: string[];
  sentClaims: string[];
}

/** A job whose capacitor was found, with the quote that offers it. */
export interface Found {
  job: Job;
  findingId: string;
  quoteId: string;
}

export function emptyStock(): Stock {
  return {
    ...{ travelling: [], onSite: [], found: [], drafted: [] },
    ...{ issued: [], sold: [], closed: [], toBill: [], billed: [] },
    ...{ openedClaims: [], sentClaims: [] },
  };
}

export async function travelling({ service, stock }: World): Promise<Job> {
  const found = stock.travelling.pop();
  if (found !== undefined) return found;
  const job = await bookJob(service);
  const path = `/v1/visits/${job.visitId}/start-travel`;
  const ifMatch = job.visitTag;
  expectStatus(await service.as('technician').post(path, {}, { ifMatch }), 200);
  return job;
}

export async function onSite({ service, stock }: World): Promise<Job> {
  return stock.onSite.pop() ?? arriveAtJob(service);
}

export async function drafted(world: World): Promise<Found> {
  const { service, stock } = world;
  const already = stock.drafted.pop();
  if (already !== undefined) return already;
  const { job, findingId } = stock.found.pop() ?? (await foundAt(service, await onSite(world)));
  const { body } = await draftQuote(service, job, [findingId]);
  return { job, findingId, quoteId: body.id };
}

async function foundAt(service: TestService, job: Job): Promise<Omit<Found, 'quoteId'>> {
  return { job, findingId: await findCapacitor(service, job) };
}

export async function issued(world: World): Promise<Found> {
  const { service, stock } = world;
  const found = stock.issued.pop() ?? (await drafted(world));
  const quote = await readQuote(service, found);
  if (quote.body.state === 'draft') await issueQuote(service, quote);
  return found;
}

export async function sold(world: World): Promise<Found> {
  const { service, stock } = world;
  const found = stock.sold.pop();
  if (found !== undefined) return found;
  const offered = await issued(world);
  await acceptQuote(service, await readQuote(service, offered));
  return offered;
}

/** All is done and measured, and the visit is over. */
export async function finished(world: World): Promise<Job> {
  const { service } = world;
  const { job, ...sale } = await sold(world);
  expectStatus(await sendOutcome(service, job.visitId, sale), 201);
  expectStatus(await sendPart(service, job.visitId, sale), 201);
  await measureAfter(service, job);
  await finishVisit(service, job.visitId);
  return job;
}

export async function closed(world: World, shelf: 'closed' | 'toBill' = 'closed'): Promise<Job> {
  const found = world.stock[shelf].pop();
  if (found !== undefined) return found;
  const job = await finished(world);
  expectStatus(await sendClose(world.service, job.ticketId), 200);
  world.stock[shelf === 'closed' ? 'toBill' : 'closed'].push(job);
  return job;
}

/** The invoice of a closed ticket that nobody has sent. */
export async function unsent(world: World): Promise<QuoteAt> {
  const { ticketId } = await closed(world, 'toBill');
  const path = `/v1/invoices?ticketId=${ticketId}&state=draft`;
  const listed = expectStatus(await world.service.as('owner').get(path), 200);
  return readInvoice(world.service, listed.body.items[0].id);
}

export async function billed(world: World): Promise<QuoteAt> {
  const { service, stock } = world;
  const found = stock.billed.pop();
  if (found !== undefined) return readInvoice(service, found);
  const { body, tag: ifMatch } = await unsent(world);
  const path = `/v1/invoices/${body.id}/issue`;
  return tagged(expectStatus(await service.as('owner').post(path, {}, { ifMatch }), 200));
}

/** A quote as it stands. */
export async function readQuote(
  service: TestService,
  { quoteId }: Pick<Found, 'quoteId'>,
): Promise<QuoteAt> {
  return tagged(expectStatus(await service.as('owner').get(`/v1/quotes/${quoteId}`), 200));
}
