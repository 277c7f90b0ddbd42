import { addSite, type Job, type Site } from './job.ts';
import { tagged } from './tagged.ts';
import { type Client, expectStatus, type TestService } from './test-service.ts';
import { bookNext } from './work.ts';

type Answer = Awaited<ReturnType<Client['post']>>;

/** A site under an agreement by which it is looked after in some months. */
export interface Looked extends Site {
  agreementId: string;
}

/** From which day on an agreement holds, up to which, and in which months something is due. */
export interface Terms {
  startsOn: string;
  endsOn: string;
  months: number[];
}

/** Puts a site under an agreement with its months of maintenance; a site of its own unless given. */
export async function lookAfter(
  service: TestService,
  { startsOn, endsOn, months }: Terms,
  site?: Site,
): Promise<Looked> {
  const place = site ?? (await addSite(service));
  const agreement = await service.as('dispatcher').post(`/v1/sites/${place.siteId}/agreements`, {
    ...{ planCode: 'two_visits', startsOn, endsOn },
    agreedByName: 'Winifred Ashgrove',
  });
  const agreementId = expectStatus(agreement, 201).body.id;
  expectStatus(await setMonths(service, agreementId, months), 200);
  return { ...place, agreementId };
}

/** Sends the months of an agreement as they stand; the sender looks at the answer. */
export async function setMonths(
  service: TestService,
  agreementId: string,
  months: number[],
): Promise<Answer> {
  const path = `/v1/agreements/${agreementId}/maintenance`;
  const { tag } = tagged(expectStatus(await service.as('dispatcher').get(path), 200));
  return service.as('dispatcher').post(path, { months, minutes: 60 }, { ifMatch: tag });
}

/** Sends that the ticket of a month is opened; the sender looks at the answer. */
export function sendOpen(
  service: TestService,
  agreementId: string,
  dueMonth: string,
): Promise<Answer> {
  return service.as('dispatcher').post('/v1/maintenance-due', { agreementId, dueMonth });
}

/** The technician is there for the maintenance of a month. */
export async function arriveForMaintenance(
  service: TestService,
  looked: Looked,
  dueMonth: string,
): Promise<Job> {
  const opened = await sendOpen(service, looked.agreementId, dueMonth);
  const ticketId = expectStatus(opened, 201).body.id;
  const purpose = { purpose: 'maintenance' };
  const booked = expectStatus(await bookNext(service, ticketId, purpose), 201);
  const path = `/v1/visits/${booked.body.id}`;
  let visitTag = tagged(booked).tag;
  for (const verb of ['start-travel', 'arrive']) {
    const moved = await service.as('technician').post(`${path}/${verb}`, {}, { ifMatch: visitTag });
    visitTag = tagged(expectStatus(moved, 200)).tag;
  }
  return { ...looked, ticketId, visitId: booked.body.id, visitTag };
}
