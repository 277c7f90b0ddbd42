import http from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Readable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import type { WireRequest } from './request-of.ts';

/** An answer as it came. */
export interface WireAnswer {
  status: number;
  headers: Record<string, string>;
  text: string;
}

/**
 * Sends a request: past the network, for it is many; over it where a header stands twice, which only
 * a real connection can carry.
 */
export function sendRequest(
  app: FastifyInstance,
  request: WireRequest,
  { token, isStream }: { token: string | undefined; isStream: boolean },
): Promise<WireAnswer> {
  const headers = {
    ...request.headers,
    ...(token !== undefined && { authorization: `Bearer ${token}` }),
  };
  const isTwice = Object.values(headers).some(Array.isArray);
  const sent = { ...request, headers };
  return isTwice && !isStream ? overTheNet(app, sent) : past(app, sent, isStream);
}

/** The address with its query. */
export function urlOf({ path, query }: Pick<WireRequest, 'path' | 'query'>): string {
  if (query.length === 0) return path;
  return `${path}?${new URLSearchParams(query.map(([name, value]): [string, string] => [name, value]))}`;
}

async function past(
  app: FastifyInstance,
  request: WireRequest,
  isStream: boolean,
): Promise<WireAnswer> {
  const answer = await app.inject({
    // The library lists the methods it knows; a server has to answer every one.
    method: request.method as 'GET',
    url: urlOf(request),
    headers: request.headers,
    payloadAsStream: isStream,
    ...(request.body !== undefined && { payload: Buffer.from(request.body) }),
  });
  return {
    status: answer.statusCode,
    headers: plainHeaders(answer.headers),
    // A stream that was let in has no end; its beginning is all there is to see.
    text: isStream ? await beginningOf(answer.stream()) : answer.body,
  };
}

async function beginningOf(stream: Readable): Promise<string> {
  for await (const chunk of stream) return String(chunk);
  return '';
}

function overTheNet(app: FastifyInstance, request: WireRequest): Promise<WireAnswer> {
  // It listens on a port, where only a pipe would have a name instead.
  const { port } = app.server.address() as AddressInfo;
  const headers = Object.entries(request.headers).flatMap(([name, value]) =>
    [value].flat().flatMap((each) => [name, each]),
  );
  return new Promise((resolve, reject) => {
    const body = request.body ?? new Uint8Array();
    const sent = http.request({
      ...{ host: '127.0.0.1', port, path: urlOf(request), method: request.method },
      headers: [...headers, 'host', '127.0.0.1', 'content-length', String(body.length)],
      agent: false,
    });
    sent.on('error', reject);
    sent.on('response', (answer) => {
      const chunks: Buffer[] = [];
      answer.on('data', (chunk) => chunks.push(chunk));
      answer.on('error', reject);
      answer.on('end', () =>
        resolve({
          status: answer.statusCode ?? 0,
          headers: plainHeaders(answer.headers),
          text: Buffer.concat(chunks).toString(),
        }),
      );
    });
    sent.end(body);
  });
}

function plainHeaders(headers: Record<string, unknown>): Record<string, string> {
  return Object.fromEntries(
    Object.entries(headers).map(([name, value]) => [name.toLowerCase(), String(value)]),
  );
}
