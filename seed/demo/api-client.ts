import { randomUUID } from 'node:crypto';

/** An answer of the API: its JSON and the tag to send with the next change. */
export interface Answer {
  // biome-ignore lint/suspicious/noExplicitAny: JSON as any client gets it over the wire.
  body: any;
  tag: string;
}

/** The API as one member of staff uses it, over real HTTP. */
export interface ApiClient {
  get(path: string): Promise<Answer>;
  post(path: string, body?: object, ifMatch?: string): Promise<Answer>;
  patch(path: string, body: object, ifMatch: string): Promise<Answer>;
  /** Sends a file as it is. */
  postFile(path: string, bytes: Uint8Array<ArrayBuffer>, mediaType: string): Promise<Answer>;
  file(path: string): Promise<NamedFile>;
  /** An answer that goes on until it is aborted. */
  open(path: string, signal: AbortSignal): Promise<ReadableStream<Uint8Array>>;
}

/** A file as it would be saved. */
export interface NamedFile {
  name: string;
  bytes: Uint8Array;
}

/** A refusal of the API: the problem document it answered with. */
export class Refused extends Error {
  readonly code: string;
  readonly detail: string;

  constructor({ code, detail }: { code: string; detail: string }) {
    super(`${code}: ${detail}`);
    this.code = code;
    this.detail = detail;
  }
}

/** Speaks to the API at `url` with a bearer token. */
export function apiClient(url: string, token: string): ApiClient {
  const send = async (method: string, path: string, init: RequestInit = {}) => {
    const headers = { authorization: `Bearer ${token}`, ...init.headers };
    const response = await fetch(`${url}${path}`, { ...init, method, headers });
    if (!response.ok) throw new Refused((await response.json()) as Refused);
    return response;
  };
  const json = async (response: Response): Promise<Answer> => ({
    body: await response.json(),
    tag: response.headers.get('etag') ?? '',
  });
  return {
    get: async (path) => json(await send('GET', path)),
    post: async (path, body = {}, ifMatch) =>
      json(
        await send('POST', path, {
          headers: {
            'content-type': 'application/json',
            'idempotency-key': randomUUID(),
            ...(ifMatch !== undefined && { 'if-match': ifMatch }),
          },
          body: JSON.stringify(body),
        }),
      ),
    postFile: async (path, bytes, mediaType) =>
      json(
        await send('POST', path, {
          headers: { 'content-type': mediaType, 'idempotency-key': randomUUID() },
          body: bytes,
        }),
      ),
    patch: async (path, body, ifMatch) =>
      json(
        await send('PATCH', path, {
          headers: { 'content-type': 'application/json', 'if-match': ifMatch },
          body: JSON.stringify(body),
        }),
      ),
    file: async (path) => {
      const response = await send('GET', path);
      const [, name] =
        /filename="([^"]+)"/.exec(response.headers.get('content-disposition') ?? '') ?? [];
      if (name === undefined) throw new Error(`${path} does not say what its file is called`);
      return { name, bytes: new Uint8Array(await response.arrayBuffer()) };
    },
    open: async (path, signal) => {
      const { body } = await send('GET', path, { signal });
      if (body === null) throw new Error(`${path} has no body`);
      return body;
    },
  };
}
