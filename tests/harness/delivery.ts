import { expectStatus, type TestService } from './test-service.ts';

/** Asks for the paper of a waiting quote to be sent as a text, and returns the delivery's id. */
export async function askText(service: TestService, ticketId: string): Promise<string> {
  const path = `/v1/papers/${await paperOf(service, ticketId, 'quote')}/deliveries`;
  const asked = await service.as('technician').post(path, { to: 'approver', channel: 'text' });
  return expectStatus(asked, 201).body.id;
}

/** The paper of one kind of a ticket. */
export async function paperOf(
  service: TestService,
  ticketId: string,
  kind: string,
): Promise<string> {
  const listed = await service.as('owner').get(`/v1/papers?ticketId=${ticketId}`);
  const found = expectStatus(listed, 200).body.items.find(
    (paper: { kind: string }) => paper.kind === kind,
  );
  return found.id;
}

/** Asks for a dead delivery to be tried again. */
export async function retryDelivery(service: TestService, id: string) {
  const dispatcher = service.as('dispatcher');
  const ifMatch = (await dispatcher.get(`/v1/deliveries/${id}`)).headers['etag'] ?? '';
  return dispatcher.post(`/v1/deliveries/${id}/retry`, {}, { ifMatch });
}

/** Lets a delivery be given up on, as a worker does whose server says no. */
export async function giveUpOn(service: TestService, deliveryId: string): Promise<void> {
  const step = (change: string) =>
    service.owner.query(
      `UPDATE delivery_state SET ${change}, version = version + 1 WHERE delivery_id = $1`,
      [deliveryId],
    );
  await step(
    `state = 'sending', attempts = 1, next_at = NULL, lease_until = '2026-07-14T18:03:00Z'`,
  );
  await step(`state = 'dead', lease_until = NULL, reason = 'The mail server refused it.'`);
}
