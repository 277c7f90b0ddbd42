import { randomUUID } from 'node:crypto';
import supertest, { type Response } from 'supertest';
import { assertContract } from '../harness/assert-contract.ts';
import { expectStatus, type TestService } from '../harness/test-service.ts';

/** Somebody with a password, as they were invited. */
export interface Invited {
  staffId: string;
  email: string;
  password: string;
}

export const goodPassword = 'seven quiet herons under the bridge';

/** Invites somebody; nobody has used the link yet. */
export async function invite(
  service: TestService,
  change: { role?: string; email?: string; name?: string } = {},
): Promise<{ staffId: string; email: string; token: string }> {
  const email = `p-${randomUUID()}@sparrowgate.example.com`;
  const person = { name: 'Jessamy Quillfeather', role: 'technician', email, ...change };
  const invited = expectStatus(await service.as('owner').post('/v1/staff', person), 201).body;
  return { staffId: invited.staffId, token: invited.token, email: person.email };
}

/** Invites somebody who then sets a password. */
export async function join(
  service: TestService,
  change: { role?: string; name?: string } = {},
): Promise<Invited> {
  const { staffId, email, token } = await invite(service, change);
  const sent = { token, password: goodPassword };
  expectStatus(await post(service, '/v1/sign-in-links/use', sent), 200);
  return { staffId, email, password: goodPassword };
}

/** Sends something to an entrance, as a program does that is not signed in. */
export async function post(
  service: TestService,
  path: string,
  body: object = {},
  headers: Record<string, string> = {},
): Promise<Response> {
  const answer = await supertest(service.app.server).post(path).set(headers).send(body);
  return assertContract(answer, 'POST');
}

/** Signs in. */
export function sendSignIn(
  service: TestService,
  { email, password }: Pick<Invited, 'email' | 'password'>,
  change: object = {},
): Promise<Response> {
  return post(service, '/v1/sign-in', { email, password, ...change });
}

/** A session as a program shows it. */
export async function bearerOf(
  service: TestService,
  person: Pick<Invited, 'email' | 'password'>,
): Promise<{ authorization: string }> {
  const { token } = expectStatus(await sendSignIn(service, person), 200).body;
  return { authorization: `Bearer ${token}` };
}

/** A session as a browser shows it. */
export async function cookieOf(
  service: TestService,
  person: Pick<Invited, 'email' | 'password'>,
): Promise<{ cookie: string }> {
  const answer = expectStatus(await sendSignIn(service, person, { carrier: 'cookie' }), 200);
  const [set = ''] = ([] as string[]).concat(answer.headers['set-cookie'] ?? []);
  return { cookie: set.split(';')[0] ?? '' };
}

/** Who the service takes somebody for. */
export async function askMe(
  service: TestService,
  headers: Record<string, string>,
): Promise<Response> {
  return assertContract(await supertest(service.app.server).get('/v1/me').set(headers), 'GET');
}

/** Where somebody is signed in, as they are told. */
export async function askSessions(
  service: TestService,
  headers: Record<string, string>,
): Promise<Response> {
  const answer = await supertest(service.app.server).get('/v1/me/sessions').set(headers);
  return assertContract(answer, 'GET');
}
