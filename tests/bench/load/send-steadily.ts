import http from 'node:http';
import { setTimeout as pause } from 'node:timers/promises';
import { send } from '../servers/send.ts';
import type { Asked } from './traffic.ts';

/** What came of the requests of one stretch. */
export interface Sent {
  requests: number;
  seconds: number;
  /** From the instant at which each was due, sent late or not, to the end of its answer. */
  readsMs: number[];
  writesMs: number[];
  /** Turned away as too much at once, with 503; not among the others. */
  refused: number;
}

/**
 * Sends requests at a steady rate, whether or not earlier ones have been answered: who waits for a
 * slow answer before asking again would not see how slow it is for others.
 * @throws Error for an answer that is neither a success nor 503: a failing service would look fast
 */
export async function sendSteadily(
  port: number,
  next: () => Asked,
  { perSecond, requests }: { perSecond: number; requests: number },
): Promise<Sent> {
  const agent = new http.Agent({ keepAlive: true });
  const sent: Sent = { requests, seconds: 0, readsMs: [], writesMs: [], refused: 0 };
  const startedAt = performance.now();
  const under: Promise<void>[] = [];
  let failure: unknown;
  for (let at = 0; at < requests && failure === undefined; at += 1) {
    const dueAt = startedAt + (at * 1_000) / perSecond;
    const early = dueAt - performance.now();
    if (early > 1) await pause(early);
    const one = measured(agent, port, next(), dueAt, sent);
    under.push(
      one.catch((error: unknown) => {
        failure ??= error;
      }),
    );
  }
  await Promise.all(under);
  if (failure !== undefined) throw failure;
  sent.seconds = (performance.now() - startedAt) / 1_000;
  agent.destroy();
  return sent;
}

/** Sends requests over some connections, each the next one as soon as its last was answered. */
export async function sendAtOnce(
  port: number,
  next: () => Asked,
  { connections, requests }: { connections: number; requests: number },
): Promise<Sent> {
  const agent = new http.Agent({ keepAlive: true, maxSockets: connections });
  const sent: Sent = { requests, seconds: 0, readsMs: [], writesMs: [], refused: 0 };
  const startedAt = performance.now();
  let begun = 0;
  const connection = async () => {
    for (; begun < requests; ) {
      begun += 1;
      await measured(agent, port, next(), performance.now(), sent);
    }
  };
  await Promise.all(Array.from({ length: connections }, connection));
  sent.seconds = (performance.now() - startedAt) / 1_000;
  agent.destroy();
  return sent;
}

async function measured(
  agent: http.Agent,
  port: number,
  asked: Asked,
  dueAt: number,
  sent: Sent,
): Promise<void> {
  const { kind, onAnswer, body, ...request } = asked;
  const content = body === undefined ? '' : JSON.stringify(body);
  const { status, etag, text } = await send(agent, port, { ...request, body: content });
  if (status === 503) {
    sent.refused += 1;
    return;
  }
  if (status >= 300) {
    throw new Error(`${request.method} ${request.path}: ${status} ${text.slice(0, 500)}`);
  }
  (kind === 'read' ? sent.readsMs : sent.writesMs).push(performance.now() - dueAt);
  onAnswer({ etag, body: JSON.parse(text) });
}
