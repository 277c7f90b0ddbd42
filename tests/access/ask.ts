import { randomBytes, randomUUID } from 'node:crypto';
import type { Readable } from 'node:stream';
import type { Role } from '../../src/platform/access/actor.ts';
import { hashOfToken } from '../../src/platform/access/token.ts';
import type { Route } from '../../src/platform/http/route.ts';
import type { TestService } from '../harness/test-service.ts';
import type { World } from './build-world.ts';
import { type Sent, sentTo } from './sent.ts';

/** Everybody who might ask, in which role: the first four have none. */
export const roleOf = {
  nobody: undefined,
  expired: undefined,
  /** Of a quote, with the cookie that their link gave them. */
  customer: undefined,
  otherCustomer: undefined,
  technician: 'technician',
  /** Another technician, to whom nothing of the first one belongs. */
  stranger: 'technician',
  dispatcher: 'dispatcher',
  owner: 'owner',
} as const satisfies Record<string, Role | undefined>;

export type AskerName = keyof typeof roleOf;

/** What somebody shows to be let in. */
export type Asker = Readonly<Record<string, string>>;

/** What everybody shows. */
export async function askers({ service, offers }: World): Promise<Record<AskerName, Asker>> {
  const [own, other] = offers;
  const { technician, second_technician, dispatcher, owner } = service.staff;
  return {
    nobody: {},
    expired: bearing(await expiredToken(service)),
    customer: withCookie(own),
    otherCustomer: withCookie(other),
    technician: bearing(technician.token),
    stranger: bearing(second_technician.token),
    dispatcher: bearing(dispatcher.token),
    owner: bearing(owner.token),
  };
}

function bearing(token: string): Asker {
  return { authorization: `Bearer ${token}` };
}

function withCookie({ token, page }: World['offers'][number]): Asker {
  return { cookie: `__Host-q-${page.split('/').at(-1)}=${token}` };
}

async function expiredToken({ owner, staff, clock }: TestService): Promise<string> {
  const token = randomBytes(32).toString('base64url');
  await owner.query(
    `INSERT INTO staff_token (id, staff_id, token_hash, created_at, expires_at)
     VALUES ($1, $2, $3, $4, $4)`,
    [randomUUID(), staff.owner.id, hashOfToken(token), clock.now()],
  );
  return token;
}

/** An answer as far as anybody could learn from it. */
export interface Seen {
  status: number;
  headers: Record<string, unknown>;
  text: string;
}

/**
 * Asks at an address of a route, with all that is needed to be taken seriously; the version that
 * is meant never was one, so that an act that is let in is refused in the end where it has versions.
 */
export async function ask(
  world: World,
  route: Route,
  address: string,
  asker: Asker,
  sent: Sent = sentTo(route, world),
): Promise<Seen> {
  const { query, body } = sent;
  const payloadAsStream = route.kind === 'stream';
  const answer = await world.service.app.inject({
    payloadAsStream,
    method: route.method,
    url: query === '' ? address : `${address}?${query}`,
    headers: {
      ...asker,
      'idempotency-key': randomUUID(),
      'if-match': '"v0"',
      ...(body !== undefined && { 'content-type': body.mediaType }),
    },
    ...(body !== undefined && { payload: asPayload(body.content) }),
  });
  const isFollowed = payloadAsStream && answer.statusCode === 200;
  const text = isFollowed
    ? await beginningOf(answer.stream())
    : await wholeOf(answer, payloadAsStream);
  return { status: answer.statusCode, headers: withoutChance(answer.headers), text };
}

function asPayload(content: string | Uint8Array): string | Buffer {
  return typeof content === 'string' ? content : Buffer.from(content);
}

type Answer = Awaited<ReturnType<TestService['app']['inject']>>;

async function wholeOf(answer: Answer, isStream: boolean): Promise<string> {
  if (!isStream) return answer.body;
  const parts: string[] = [];
  for await (const part of answer.stream()) parts.push(String(part));
  return parts.join('');
}

/** A stream that was let in has no end; its beginning is all there is to see. */
async function beginningOf(stream: Readable): Promise<string> {
  for await (const part of stream) return String(part);
  return '';
}

/** What differs between two answers to one and the same request is left out. */
function withoutChance(headers: Answer['headers']): Record<string, unknown> {
  const { date: _date, 'x-request-id': _id, ...rest } = headers;
  return rest;
}

/** The same of a problem: all but where, and which request it was. */
export function refusalOf({ status, headers, text }: Seen): unknown {
  const { instance: _instance, requestId: _requestId, ...problem } = JSON.parse(text);
  return { status, headers, problem };
}
