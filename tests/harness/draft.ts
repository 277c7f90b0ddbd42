import type { Response } from 'supertest';
import { expectStatus, type TestService } from './test-service.ts';

/** A draft of the price book with its tag. */
export interface DraftAt {
  id: string;
  tag: string;
}

/** Begins a draft from the price book in force. */
export async function beginDraft(service: TestService): Promise<DraftAt> {
  const begun = await service
    .as('owner')
    .post('/v1/price-book-drafts', { note: 'Next spring', from: 'in_force' });
  return draftAt(expectStatus(begun, 201));
}

/** Changes a draft and gives its next tag. */
export async function changeDraft(
  service: TestService,
  { id, tag }: DraftAt,
  change: object,
): Promise<DraftAt> {
  const path = `/v1/price-book-drafts/${id}`;
  return draftAt(
    expectStatus(await service.as('owner').patch(path, change, { ifMatch: tag }), 200),
  );
}

/** Sends a list of a draft as a CSV file. */
export function sendList(
  service: TestService,
  { id, tag }: DraftAt,
  list: string,
  csv: string | Uint8Array,
): Promise<Response> {
  const bytes = typeof csv === 'string' ? Buffer.from(csv) : csv;
  const path = `/v1/price-book-drafts/${id}/${list}.csv`;
  return service.as('owner').send(path, 'text/csv', bytes, { ifMatch: tag });
}

export function draftAt({ body, headers }: Response): DraftAt {
  return { id: body.id, tag: headers['etag'] ?? '' };
}
