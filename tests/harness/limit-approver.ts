import { expectStatus, type TestService } from './test-service.ts';

/**
 * Somebody else pays for a site from now on, and its approver agrees only up to a limit: who pays
 * for their own site has none.
 */
export async function limitApprover(
  service: TestService,
  siteId: string,
  approverLimitCents: number,
): Promise<void> {
  const dispatcher = service.as('dispatcher');
  const payer = { name: 'Leopold Ashgrove', phone: '555-0112' };
  const payerId = expectStatus(await dispatcher.post('/v1/customers', payer), 201).body.id;
  const path = `/v1/sites/${siteId}`;
  const ifMatch = (await dispatcher.get(path)).headers['etag'] ?? '';
  expectStatus(await dispatcher.patch(path, { payerId, approverLimitCents }, { ifMatch }), 200);
}
