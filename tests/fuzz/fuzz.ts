import fc from 'fast-check';
import { company } from '../../seed/company.ts';
import { priceBook } from '../../seed/price-book.ts';
import { expectStatus } from '../harness/test-service.ts';
import { complain, complainOfTwice, type Exchange } from './complain.ts';
import { type Judge, judgeBy } from './judge-answer.ts';
import { openWorld } from './open-world.ts';
import { may, type Plan, planRequest, type Who } from './plan-request.ts';
import { type Operation, readContract } from './read-contract.ts';
import { recipes } from './recipes.ts';
import { requestOf, type WireRequest } from './request-of.ts';
import { sendRequest, type WireAnswer } from './send-request.ts';
import { newTally, type Tally } from './tally.ts';
import type { Prepared, World } from './world.ts';

export interface FuzzOptions {
  /** How many requests are made, those that only prepare a state not counted. */
  requests: number;
  seed: number;
  /** The last request to be made, which is then told whole. */
  only?: number;
  /** Told now and again, for long runs. */
  onProgress?: (done: number) => void;
}

export interface FuzzReport {
  world: World;
  /** Of each kind the first. */
  failures: Told[];
  tallies: ReadonlyMap<string, Tally>;
  /** The exchange that was asked for. */
  only: Told | undefined;
}

/** What was sent and answered, and what is wrong with it. */
export interface Told extends Plan {
  seed: number;
  only: number;
  operationId: string;
  request: object;
  complaints: string[];
  answer: { status: number; text: string };
  /** What the service itself says of it. */
  log: string[];
}

/** Makes requests from the contract, one operation after the other, and judges every answer. */
export async function fuzz(options: FuzzOptions): Promise<FuzzReport> {
  const { seed, only, onProgress } = options;
  const { document, operations } = readContract();
  const world = await openWorld(operations);
  const tallies = new Map(operations.map(({ operationId }) => [operationId, newTally()]));
  const run: Run = { world, seed, judge: judgeBy(document), ready: new Map(), tallies };
  const failures: Told[] = [];
  const requests = only === undefined ? options.requests : only + 1;
  for (let at = 0; at < requests; at += 1) {
    const operation = operations[at % operations.length];
    if (operation === undefined) throw new Error('the contract has no operation');
    const told = await makeOne(run, operation, at);
    if (told.complaints.length > 0 && !failures.some(isLike(told))) failures.push(told);
    if (at === only) return { world, failures, tallies, only: told };
    if (at % 1_000 === 999) onProgress?.(at + 1);
  }
  return { world, failures, tallies, only: undefined };
}

/** The same thing wrong, which is told once. */
const isLike = (told: Told) => (other: Told) =>
  other.operationId === told.operationId && other.complaints[0] === told.complaints[0];

interface Run {
  world: World;
  seed: number;
  judge: Judge;
  /** What was prepared for an operation and is not used up. */
  ready: Map<string, { prepared: Prepared; uses: number }>;
  tallies: Map<string, Tally>;
}

async function makeOne(run: Run, operation: Operation, at: number): Promise<Told> {
  const { world, seed, tallies } = run;
  const { operationId } = operation;
  const tally = tallies.get(operationId) ?? newTally();
  const plan = sample(planRequest(operationId, tally.requests), seed, 2 * at);
  const prepared = await preparedFor(run, operation, { plan, tally });
  const tag = operation.needsMatch ? await tagOf(world, operation, prepared) : '*';
  const arbitrary = requestOf(operation, plan.mood, { prepared, world, tag });
  const request = sample(arbitrary, seed, 2 * at + 1);
  const send = () => sendAs(world, plan.who, operation, { request, prepared });
  const answer = await send();
  const exchange: Exchange = { operation, plan, request, answer };
  const complaints = complain(run.judge, exchange);
  if (plan.isCheckedTwice) complaints.push(...(await complainOfTwice(world, exchange, send)));
  count(tally, exchange);
  if (!request.isAstray) {
    use(run, operationId, answer);
    learn(world, operation, answer);
  }
  return {
    ...{ seed, only: at, operationId, ...plan },
    request: printable(request),
    complaints,
    answer: { status: answer.status, text: answer.text.slice(0, 2_000) },
    log: world.mistakes.splice(0).map((line) => line.slice(0, 2_000)),
  };
}

/** The same draw for the same seed and place, whatever was drawn before. */
function sample<T>(arbitrary: fc.Arbitrary<T>, seed: number, at: number): T {
  // The golden ratio of 32 bits, so that neighboring places have seeds far apart.
  const [drawn] = fc.sample(arbitrary, { numRuns: 1, seed: (seed + at * 0x9e37_79b1) | 0 });
  if (drawn === undefined) throw new Error('nothing was drawn');
  return drawn;
}

async function preparedFor(
  run: Run,
  { operationId }: Operation,
  { plan, tally }: { plan: Plan; tally: Tally },
): Promise<Prepared> {
  const ready = run.ready.get(operationId);
  if (ready !== undefined) return ready.prepared;
  const recipe = recipes[operationId];
  // Who may not do it is told so whatever it is about.
  if (recipe === undefined || !may(operationId, plan.who)) return {};
  try {
    const prepared = await recipe(run.world);
    run.ready.set(operationId, { prepared, uses: 0 });
    return prepared;
  } catch (error) {
    tally.unprepared = error instanceof Error ? error.message : String(error);
    await heal(run.world);
    return {};
  }
}

/**
 * Something hostile may have been let in that others now stumble over: a book without parts, taxes of
 * a place that has no rule.
 */
async function heal({ service }: World): Promise<void> {
  const owner = service.as('owner');
  const book = { ...priceBook, effectiveFrom: service.clock.now().toISOString() };
  expectStatus(await owner.post('/v1/price-books', book), 201);
  const { defaultJurisdiction } = company;
  const back = await owner.patch('/v1/company', { defaultJurisdiction }, { ifMatch: '*' });
  expectStatus(back, 200);
}

/** How often what was prepared is used while nothing succeeds, and while it goes on succeeding. */
const USES_MAX = { once: 10, lasting: 60 };

function use(run: Run, operationId: string, { status, text }: WireAnswer): void {
  const ready = run.ready.get(operationId);
  if (ready === undefined) return;
  const { lasts, onlyNow, leaves } = ready.prepared;
  const isDone = status < 300;
  ready.uses += 1;
  const usesMax = onlyNow ? 1 : lasts ? USES_MAX.lasting : USES_MAX.once;
  if (ready.uses >= usesMax || (isDone && !lasts)) run.ready.delete(operationId);
  if (isDone) leaves?.(JSON.parse(text));
}

async function tagOf(world: World, operation: Operation, prepared: Prepared): Promise<string> {
  if (prepared.ifMatch !== undefined) return prepared.ifMatch;
  const path =
    prepared.tagAt ??
    operation.tagPath?.replace(/\{(\w+)\}/g, (_, name: string) =>
      encodeURIComponent(prepared.params?.[name] ?? 'absent'),
    );
  if (path === undefined) return '*';
  const { token } = world.service.staff.owner;
  const headers = { authorization: `Bearer ${token}` };
  const { headers: answered } = await world.service.app.inject({ url: path, headers });
  return String(answered['etag'] ?? '*');
}

function sendAs(
  { service }: World,
  who: Who,
  operation: Operation,
  { request, prepared }: { request: WireRequest; prepared: Prepared },
): Promise<WireAnswer> {
  const isStream = operation.responses.get(200)?.mediaTypes.includes('text/event-stream') ?? false;
  return sendRequest(service.app, request, {
    token: tokenOf(service, who, prepared),
    isStream: isStream && !request.isAstray,
  });
}

function tokenOf(
  { staff }: World['service'],
  who: Who,
  { ownerToken }: Prepared,
): string | undefined {
  if (who === 'nobody') return undefined;
  if (who === 'forged') return 'x'.repeat(43);
  return who === 'owner' && ownerToken !== undefined ? ownerToken : staff[who].token;
}

function count(tally: Tally, { operation, plan, answer }: Exchange): void {
  tally.requests += 1;
  tally.statuses.set(answer.status, (tally.statuses.get(answer.status) ?? 0) + 1);
  const isGood = plan.mood === 'good' || plan.mood === 'drawn';
  if (!isGood || !may(operation.operationId, plan.who)) return;
  tally.meant += 1;
  if (answer.status < 300) tally.succeeded += 1;
}

/** Keeps what an answer names, for later requests to name it. */
function learn({ known }: World, operation: Operation, answer: WireAnswer): void {
  const { status, headers, text } = answer;
  if (status >= 300 || headers['content-type']?.includes('json') !== true) return;
  const body = JSON.parse(text);
  known.learn(operation, body);
  if (typeof body.nextCursor === 'string') {
    known.add(`cursors of ${operation.operationId}`, body.nextCursor);
  }
}

function printable({ body, ...request }: WireRequest): object {
  if (body === undefined) return request;
  // A long one is told in part; the seed and the number bring back all of it.
  const bytes = Buffer.from(body.subarray(0, 20_000));
  const text = bytes.toString();
  const isText = Buffer.from(text).equals(bytes);
  return { ...request, body: isText ? text : { base64: bytes.toString('base64') } };
}
