import http from 'node:http';

export interface BenchRequest {
  /** POST unless given. */
  method?: 'GET' | 'POST';
  path: string;
  headers: Record<string, string>;
  /** Of a GET empty. */
  body: string;
}

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
      bodies[at] = await send(agent, port, request);
      latenciesMs.push(performance.now() - start);
    }
  };
  const start = performance.now();
  await Promise.all(Array.from({ length: connections }, connection));
  const seconds = (performance.now() - start) / 1_000;
  agent.destroy();
  return { requestsPerSecond: requests.length / seconds, latenciesMs, bodies };
}

function send(
  agent: http.Agent,
  port: number,
  { method = 'POST', path, headers, body }: BenchRequest,
) {
  return new Promise<string>((resolve, reject) => {
    const length = body === '' ? {} : { 'content-length': String(Buffer.byteLength(body)) };
    const options = { agent, host: '127.0.0.1', port, path, method };
    const request = http.request({ ...options, headers: { ...headers, ...length } }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('error', reject);
      response.on('end', () => {
        const text = Buffer.concat(chunks).toString();
        if ((response.statusCode ?? 500) < 300) resolve(text);
        else reject(new Error(`${path}: ${response.statusCode} ${text.slice(0, 500)}`));
      });
    });
    request.on('error', reject);
    request.end(body);
  });
}
