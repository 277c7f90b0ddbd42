import type { FastifyRequest } from 'fastify';
import type { Logger } from 'pino';
import type { Actor, CustomerActor } from '../access/actor.ts';

/**
 * Has every further line of a request say who asks, its refusal and its end among them (ASVS 5.0,
 * 16.2.1): by kind and id alone, for a log holds no names. Who is noted first stays.
 */
export function noteAsker(request: FastifyRequest, { kind, id }: Asker): void {
  if (noted.has(request)) return;
  noted.add(request);
  // Each request has a logger of its own, which is its answer's too and, of ours, always pino's.
  (request.log as Logger).setBindings({ asker: { kind, id } });
}

/** A calendar program has only the address that was made for it. */
type Asker = Pick<Actor | CustomerActor, 'kind' | 'id'> | { kind: 'calendar_feed'; id: string };

/** A stream asks again and again whether it may go on. */
const noted = new WeakSet<FastifyRequest>();
