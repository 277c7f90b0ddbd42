import type { QuoteAt } from './job.ts';
import { tagged } from './tagged.ts';
import { expectStatus, type TestService } from './test-service.ts';

/** An invoice as the office sees it, with its tag. */
export async function readInvoice(service: TestService, id: string): Promise<QuoteAt> {
  return tagged(expectStatus(await service.as('dispatcher').get(`/v1/invoices/${id}`), 200));
}
