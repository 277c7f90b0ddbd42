import { generateKeyPairSync } from 'node:crypto';
import { createLocalJWKSet, flattenedVerify, type JSONWebKeySet } from 'jose';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { registerKey } from '../../src/papers/index.ts';
import { paperKeyOf } from '../../src/proof/load-paper-key.ts';
import { arriveAtJob, findCapacitor } from '../harness/job.ts';
import { testKey } from '../harness/test-papers.ts';
import { createTestService, expectStatus, type TestService } from '../harness/test-service.ts';
import { offer } from '../harness/whole-job.ts';
import { reader } from './reader.ts';

const ADDRESS = '/.well-known/jwks.json';

let service: TestService;
beforeAll(async () => {
  service = await createTestService();
  await register(testKey);
});
afterAll(() => service.close());

async function register({ publicKey }: typeof testKey): Promise<void> {
  const context = { db: service.db, now: service.clock.now(), newId: () => crypto.randomUUID() };
  await registerKey(context, publicKey);
}

describe('the published keys', () => {
  it('are what another library checks a downloaded paper with', async () => {
    const published = expectStatus(await reader(service).get(ADDRESS), 200);
    const keys = createLocalJWKSet(JSON.parse(published.text) as JSONWebKeySet);
    const job = await arriveAtJob(service);
    await offer(service, job, [await findCapacitor(service, job)]);
    const staff = service.as('dispatcher');
    const { items } = (await staff.get(`/v1/papers?ticketId=${job.ticketId}`)).body;
    const file = expectStatus(await staff.get(`/v1/papers/${items[0].id}/file`), 200);
    const [data, signature] = await attachmentsOf(new Uint8Array(file.body));
    const [header = '', , mark = ''] = Buffer.from(signature ?? '')
      .toString('latin1')
      .split('.');
    const payload = Buffer.from(data ?? '').toString('base64url');
    const checked = await flattenedVerify({ protected: header, payload, signature: mark }, keys);
    expect(checked.protectedHeader).toMatchObject({ alg: 'EdDSA', kid: testKey.publicKey.kid });
    const other = Buffer.from(`${Buffer.from(data ?? '')} `).toString('base64url');
    await expect(
      flattenedVerify({ protected: header, payload: other, signature: mark }, keys),
    ).rejects.toThrow('signature verification failed');
  });

  it('come as a set of keys (RFC 7517, 8.5) that may be kept for minutes, to everybody', async () => {
    const { headers, text } = expectStatus(await reader(service).get(ADDRESS), 200);
    expect(headers['content-type']).toBe('application/jwk-set+json');
    expect(headers['cache-control']).toBe('public, max-age=300');
    expect(text).not.toContain('"d"');
    const again = await reader(service).get(ADDRESS, { 'if-none-match': headers['etag'] ?? '' });
    expect(again.status).toBe(304);
    expect(again.text).toBe('');
  });

  it('stay when a new one comes, and the new one is in the next answer', async () => {
    const before = await reader(service).get(ADDRESS);
    service.clock.advance(1_000);
    const next = paperKeyOf(generateKeyPairSync('ed25519').privateKey);
    await register(next);
    const known = { 'if-none-match': before.headers['etag'] ?? '' };
    const after = await reader(service).get(ADDRESS, known);
    expectStatus(after, 200);
    const kids = JSON.parse(after.text).keys.map(({ kid }: { kid: string }) => kid);
    expect(kids).toEqual([next.publicKey.kid, testKey.publicKey.kid]);
  });
});

/** The data and the signature in a file, as a browser's reader hands them out. */
async function attachmentsOf(bytes: Uint8Array): Promise<Uint8Array[]> {
  const task = getDocument({ data: bytes, verbosity: 0 });
  const found = (await (await task.promise).getAttachments()) as Record<
    string,
    { content: Uint8Array }
  >;
  await task.destroy();
  const names = Object.keys(found).sort();
  return names.map((name) => found[name]?.content ?? new Uint8Array());
}
