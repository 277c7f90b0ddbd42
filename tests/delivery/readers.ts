import { addSite, type Site } from '../harness/job.ts';
import { expectStatus, type TestService } from '../harness/test-service.ts';
import type { ReadMail } from './mails-of.ts';

/** A site whose customer has a mail address. */
export async function siteWithMail(
  service: TestService,
  language = 'en',
  email = 'winifred@example.com',
): Promise<Site> {
  const site = await addSite(service);
  await service.owner.query('UPDATE customer SET email = $2, language = $3 WHERE id = $1', [
    site.customerId,
    email,
    language,
  ]);
  return site;
}

/** The path of the link in a mail. */
export function linkIn({ text }: Pick<ReadMail, 'text'>): `/${string}` | undefined {
  const [, path] = /https:\/\/company\.example(\/q\/[\w-]{43})\n/.exec(text) ?? [];
  return path as `/${string}` | undefined;
}

export function only<T>(all: readonly T[]): T {
  const [one] = all;
  if (all.length !== 1 || one === undefined) throw new Error(`${all.length}, not one`);
  return one;
}

/** Somebody else decides for a site from now on. */
export async function handToAnother(service: TestService, siteId: string): Promise<void> {
  const dispatcher = service.as('dispatcher');
  const approver = { name: 'Leopold Ashgrove', phone: '555-0112' };
  const approverId = expectStatus(await dispatcher.post('/v1/customers', approver), 201).body.id;
  const path = `/v1/sites/${siteId}`;
  const ifMatch = (await dispatcher.get(path)).headers['etag'] ?? '';
  expectStatus(await dispatcher.patch(path, { approverId }, { ifMatch }), 200);
}
