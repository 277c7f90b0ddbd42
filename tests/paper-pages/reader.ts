import supertest, { type Response } from 'supertest';
import type { TestService } from '../harness/test-service.ts';

/** Somebody with a paper in hand and no more rights than that. */
export interface Reader {
  get(path: string, headers?: Record<string, string>): Promise<Response>;
  /** Presses the button for the link. */
  askAgain(hash: string, headers?: Record<string, string>): Promise<Response>;
  /** Sends a file with the form. */
  send(
    bytes: Uint8Array,
    options?: { name?: string; lang?: string; headers?: Record<string, string> },
  ): Promise<Response>;
}

const own = { 'sec-fetch-site': 'same-origin' };

export function reader(service: TestService): Reader {
  const agent = supertest(service.app.server);
  return {
    get: async (path, headers = {}) => agent.get(path).redirects(0).set(headers),
    askAgain: async (hash, headers = own) =>
      agent.post(`/paper/${hash}/link`).redirects(0).set(headers).type('form').send('language=en'),
    send: async (bytes, { name = 'paper.pdf', lang = 'en', headers = own } = {}) =>
      agent
        .post(`/verify?lang=${lang}`)
        .set(headers)
        .attach('file', Buffer.from(bytes), { filename: name, contentType: 'application/pdf' }),
  };
}

/** What of a page is read aloud, roughly: its text without its marks. */
export function textOf({ text }: Pick<Response, 'text'>): string {
  return text
    .replace(/<(title|style)[^>]*>[^<]*<\/\1>/g, '')
    .replace(/<\/(h\d|p|dt|dd|li|div)>/g, ' ')
    .replace(/<[^>]+>/g, '')
    .replace(/&#39;/g, "'")
    .replace(/&quot;/g, '"')
    .replace(/&amp;/g, '&')
    .replace(/\s+/g, ' ')
    .trim();
}
