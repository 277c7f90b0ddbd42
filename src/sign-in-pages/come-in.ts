import type { FastifyRequest } from 'fastify';
import type { Actor } from '../platform/access/actor.ts';
import { authenticate } from '../platform/access/authenticate.ts';
import { SESSION_COOKIE } from '../platform/access/session-cookie.ts';
import { hashOfToken } from '../platform/access/token.ts';
import { noteAsker } from '../platform/http/note-asker.ts';
import { readCookie } from '../platform/http/read-cookie.ts';
import type { EntranceContext } from '../platform/http/route.ts';
import type { PageDeps } from './page-deps.ts';

/** What the entrances of the interface are given, for a page; nobody is signed in where none is. */
export async function comeIn(deps: PageDeps, request: FastifyRequest): Promise<EntranceContext> {
  const now = deps.clock.now();
  const token = readCookie(request.headers.cookie, SESSION_COOKIE);
  const shown = token ? ({ token, carrier: 'cookie' } as const) : undefined;
  const userAgent = request.headers['user-agent'];
  const actor = shown && (await authenticate(deps.db.pool, shown, now));
  if (actor !== undefined) noteAsker(request, actor);
  return {
    actor,
    shownHash: shown && hashOfToken(shown.token),
    ...{ now, requestId: request.id, log: request.log as EntranceContext['log'] },
    ...{ sql: deps.db.pool, db: deps.db, newId: () => deps.ids.next() },
    origin: { address: request.ip, ...(userAgent !== undefined && { userAgent }) },
    factorKey: deps.factorKey,
  };
}

/** What whoever is signed in is given. */
export interface SignedIn extends EntranceContext {
  actor: Actor;
}

/** Whether somebody is signed in. */
export function isSignedIn(context: EntranceContext): context is SignedIn {
  return context.actor !== undefined;
}
