import { randomUUID } from 'node:crypto';
import type { FastifyInstance } from 'fastify';
import { type Logger, pino } from 'pino';
import supertest, { type Response } from 'supertest';
import { expect } from 'vitest';
import { type StaffKey, taxRule } from '../../seed/company.ts';
import { type LoadedStaff, loadCompany } from '../../seed/load-company.ts';
import { priceBook } from '../../seed/price-book.ts';
import { buildApp } from '../../src/app.ts';
import type { PaperDesk } from '../../src/papers/index.ts';
import type { ProblemSlug } from '../../src/platform/http/problem-catalog.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { assertContract } from './assert-contract.ts';
import { type FixedClock, fixedClock } from './fixed-clock.ts';
import { createTestDatabase, type TestDatabase } from './test-database.ts';
import { testPapers } from './test-papers.ts';

/** The whole application on its own real database, without a fixed port. */
export interface TestService extends TestDatabase {
  app: FastifyInstance;
  clock: FixedClock;
  staff: Record<StaffKey, LoadedStaff>;
  /** Requests as a member of staff; every answer is held against the contract. */
  as(who: StaffKey | 'nobody'): Client;
  close(): Promise<void>;
}

export interface SendOptions {
  ifMatch?: string;
  /** A fresh key unless given; null sends none. */
  key?: string | null;
  headers?: Record<string, string>;
}

export interface Client {
  get(path: string, headers?: Record<string, string>): Promise<Response>;
  post(path: string, body?: object, options?: SendOptions): Promise<Response>;
  /** A file as the whole body. */
  send(
    path: string,
    mediaType: string,
    bytes: Uint8Array,
    options?: SendOptions,
  ): Promise<Response>;
  patch(path: string, body: object, options?: SendOptions): Promise<Response>;
}

export interface ServiceOptions {
  clock?: FixedClock;
  /** Without it there are people who may sign in, and nobody has said yet who the company is. */
  isSetUp?: boolean;
  /** Without it there is neither price book nor tax rule. */
  withPriceBook?: boolean;
  /** Silent unless given. */
  log?: Logger;
  /** What makes papers otherwise than tests usually do. */
  papers?: PaperDesk;
  /** A database that holds a company already, with its staff and their tokens. */
  on?: { database: TestDatabase; staff: Record<StaffKey, LoadedStaff> };
}

/** Starts the application on a fresh database with the invented company and its price book. */
export async function createTestService({
  clock = fixedClock(),
  on,
  isSetUp = true,
  withPriceBook = isSetUp && on === undefined,
  log = pino({ level: 'silent' }),
  papers = testPapers(),
}: ServiceOptions = {}): Promise<TestService> {
  const database = on?.database ?? (await createTestDatabase());
  const ids = timedIds(clock);
  const deps = { db: database.db, clock, ids, log, papers };
  const staff = on?.staff ?? (await loadCompany({ ...deps, isSetUp }));
  const app = await buildApp(deps);
  await app.listen({ port: 0, host: '127.0.0.1' });
  const service: TestService = {
    ...database,
    app,
    clock,
    staff,
    as: (who) => createClient(app, who === 'nobody' ? undefined : staff[who].token),
    close: async () => {
      await app.close();
      await database.drop();
    },
  };
  if (withPriceBook) {
    expectStatus(await service.as('owner').post('/v1/price-books', priceBook), 201);
    expectStatus(await service.as('owner').post('/v1/tax-rules', taxRule), 201);
  }
  return service;
}

/** Fails with the answer's body in sight unless it has the status. */
export function expectStatus(response: Response, status: number): Response {
  expect(response.status, `${response.request.url}: ${response.text}`).toBe(status);
  return response;
}

/** Fails unless the answer is this problem. */
export function expectProblem(response: Response, slug: ProblemSlug): Response {
  expect(response.body.code, `${response.request.url}: ${response.text}`).toBe(slug);
  return response;
}

function createClient(app: FastifyInstance, token: string | undefined): Client {
  const agent = supertest(app.server);
  const authorized = (request: supertest.Test, headers: Record<string, string> = {}) => {
    if (token !== undefined) request.set('authorization', `Bearer ${token}`);
    return request.set(headers);
  };
  const written = (request: supertest.Test, body: object, options: SendOptions) => {
    if (options.ifMatch !== undefined) request.set('if-match', options.ifMatch);
    return authorized(request, options.headers).send(body);
  };
  return {
    get: async (path, headers) => assertContract(await authorized(agent.get(path), headers), 'GET'),
    post: async (path, body = {}, options = {}) => {
      const request = agent.post(path);
      if (options.key !== null) request.set('idempotency-key', options.key ?? randomUUID());
      return assertContract(await written(request, body, options), 'POST');
    },
    send: async (path, mediaType, bytes, options = {}) => {
      const request = authorized(agent.post(path), options.headers).set('content-type', mediaType);
      if (options.key !== null) request.set('idempotency-key', options.key ?? randomUUID());
      if (options.ifMatch !== undefined) request.set('if-match', options.ifMatch);
      return assertContract(await request.send(Buffer.from(bytes)), 'POST');
    },
    patch: async (path, body, options = {}) =>
      assertContract(await written(agent.patch(path), body, options), 'PATCH'),
  };
}
