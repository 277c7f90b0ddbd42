import http from 'node:http';

/** A request as it goes out. */
export interface BenchRequest {
  /** POST unless given. */
  method?: 'GET' | 'POST';
  path: string;
  headers: Record<string, string>;
  /** Of a GET empty. */
  body: string;
}

/** What came back. */
export interface Answered {
  status: number;
  etag: string | undefined;
  text: string;
}

/** Sends one request to this machine and reads the whole answer, whatever it says. */
export function send(
  agent: http.Agent,
  port: number,
  { method = 'POST', path, headers, body }: BenchRequest,
): Promise<Answered> {
  return new Promise((resolve, reject) => {
    const length = body === '' ? {} : { 'content-length': String(Buffer.byteLength(body)) };
    const options = { agent, host: '127.0.0.1', port, path, method };
    const request = http.request({ ...options, headers: { ...headers, ...length } }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('error', reject);
      response.on('end', () => {
        const { statusCode: status = 500, headers: told } = response;
        resolve({ status, etag: told.etag, text: Buffer.concat(chunks).toString() });
      });
    });
    request.on('error', reject);
    request.end(body);
  });
}
