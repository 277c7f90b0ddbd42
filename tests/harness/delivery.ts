import { expectStatus, type TestService } from './test-service.ts';

/** Asks for the paper of a waiting quote to be sent as a text, and returns the delivery's id. */
export async function askText(service: TestService, ticketId: string): Promise<string> {
  const technician = service.as('technician');
  const papers = await technician.get(`/v1/papers?ticketId=${ticketId}`);
  const paper = expectStatus(papers, 200).body.items.find(
    ({ kind }: { kind: string }) => kind === 'quote',
  );
  const path = `/v1/papers/${paper.id}/deliveries`;
  return expectStatus(await technician.post(path, { to: 'approver', channel: 'text' }), 201).body
    .id;
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
