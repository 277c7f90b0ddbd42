import type { FastifyInstance } from 'fastify';
import { ProblemError } from './problem.ts';

/** How far the process is behind with what it was asked for. */
export interface Pace {
  /** Work that waits for a connection of the database. */
  poolWaiting(): number;
  /** How late everything is: for so long nothing is begun. */
  loopDelayMs(): number;
}

/** From where on nothing more is begun. */
export interface PaceLimits {
  poolWaitingMax: number;
  loopDelayMsMax: number;
}

/**
 * Refuses requests while too many wait already: before anything of them is read, asked or begun, so
 * that the same request under the same Idempotency-Key does later what it would have done now. A
 * crowd that is let in waits for a connection until it fails, having cost its work; one that is
 * turned away at the door costs nothing. What says how the process is answers always.
 *
 * A library that does this looks now and then at the event loop and the heap; it does not know what
 * waits for the database, which is where this service is full first, and the exact count is at hand.
 */
export function refuseWhenBehind(app: FastifyInstance, pace: Pace, limits: PaceLimits): void {
  app.addHook('onRequest', async (request) => {
    if (request.routeOptions.config.alwaysAnswers || !isBehind(pace, limits)) return;
    throw new ProblemError(
      'unavailable',
      'Too many requests are waiting. Nothing was begun; send the same again in a moment.',
    );
  });
}

/** True from the limit on. */
export function isBehind(pace: Pace, { poolWaitingMax, loopDelayMsMax }: PaceLimits): boolean {
  return pace.poolWaiting() >= poolWaitingMax || pace.loopDelayMs() >= loopDelayMsMax;
}
