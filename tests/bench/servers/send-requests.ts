import http from 'node:http';
import { type BenchRequest, send } from './send.ts';

export interface Sent {
  requestsPerSecond: number;
  latenciesMs: number[];
  bodies: string[];
}

export const connections = 8;

/**
 * Sends requests over so many connections that stay open, each connection the next one as soon as
 * its last was answered.
 * @throws Error for the first answer that is no success: a failing server would look fast
 */
export async function sendRequests(port: number, requests: BenchRequest[]): Promise<Sent> {
  const agent = new http.Agent({ keepAlive: true, maxSockets: connections });
  const latenciesMs: number[] = [];
  const bodies: string[] = [];
  let next = 0;
  const connection = async () => {
    for (let at = next; at < requests.length; at = next) {
      next += 1;
      const request = requests[at];
      if (request === undefined) return;
      const start = performance.now();
      const { status, text } = await send(agent, port, request);
      if (status >= 300) throw new Error(`${request.path}: ${status} ${text.slice(0, 500)}`);
      bodies[at] = text;
      latenciesMs.push(performance.now() - start);
    }
  };
  const start = performance.now();
  await Promise.all(Array.from({ length: connections }, connection));
  const seconds = (performance.now() - start) / 1_000;
  agent.destroy();
  return { requestsPerSecond: requests.length / seconds, latenciesMs, bodies };
}
