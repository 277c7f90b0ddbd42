import supertest, { type Response } from 'supertest';
import type { TestService } from '../harness/test-service.ts';

/** A browser of the staff, as far as a test without one goes: it keeps cookies and follows to pages. */
export interface Visitor {
  cookies: Map<string, string>;
  get(path: string): Promise<Response>;
  /** Sends a form as our own page does, unless the headers say otherwise. */
  send(path: string, fields: object, headers?: Record<string, string>): Promise<Response>;
}

export function visitor(service: Pick<TestService, 'app'>): Visitor {
  const cookies = new Map<string, string>();
  const sent = async (request: supertest.Test): Promise<Response> => {
    const cookie = [...cookies].map((pair) => pair.join('=')).join('; ');
    const answer = await (cookie === '' ? request : request.set('cookie', cookie));
    keep(cookies, answer);
    return answer;
  };
  const agent = supertest(service.app.server);
  return {
    cookies,
    get: (path) => sent(agent.get(path)),
    send: (path, fields, headers = { 'sec-fetch-site': 'same-origin' }) =>
      sent(agent.post(path).type('form').set(headers).send(fields)),
  };
}

function keep(cookies: Map<string, string>, { headers }: Response): void {
  const set: unknown = headers['set-cookie'];
  for (const each of Array.isArray(set) ? set : []) {
    const [name = '', value = ''] = String(each).split(';')[0]?.split(/=(.*)/s) ?? [];
    if (value === '') cookies.delete(name);
    else cookies.set(name, value);
  }
}
