import type { FastifyInstance } from 'fastify';
import { paperKeys } from '../papers/index.ts';
import { isUnchanged } from '../platform/http/etag.ts';
import { sha256 } from '../platform/sha256.ts';
import { keySetText } from '../proof/index.ts';
import type { PageDeps } from './page-deps.ts';

/**
 * The keys by which anybody can check a paper without asking us: a JWK set (RFC 7517, 8.5), at the
 * address where such sets are looked for. Old keys stay in it. It may be kept for some minutes, so
 * that a new key is known soon after the first paper is signed with it.
 */
export function servesKeySet(app: FastifyInstance, { db }: Pick<PageDeps, 'db'>): void {
  const open = { schema: { hide: true }, config: { access: 'public' } } as const;
  app.get('/.well-known/jwks.json', open, async (request, reply) => {
    const text = keySetText(await paperKeys(db));
    const etag = `"${sha256(text)}"`;
    reply.header('etag', etag).header('cache-control', 'public, max-age=300');
    if (isUnchanged(request.headers['if-none-match'], etag)) return reply.code(304).send();
    // As bytes: the type of a key set has no charset, and a text would be given one.
    return reply.type('application/jwk-set+json').send(Buffer.from(text));
  });
}
