import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { staff as colleagues } from '../../seed/company.ts';
import { routes } from '../../src/app.ts';
import { toldTo } from '../../src/platform/access/confidential.ts';
import type { Route } from '../../src/platform/http/route.ts';
import { access } from '../contract/access.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';
import { type Asker, type AskerName, ask, askers, refusalOf, roleOf } from './ask.ts';
import { buildWorld, type World } from './build-world.ts';
import { holdRows } from './hold-rows.ts';
import { saidIn } from './marked.ts';
import { rowVersions } from './row-versions.ts';
import { withStatements } from './statements.ts';
import { addressOf, namedIn } from './things.ts';

let service: TestService;
let world: World;
let people: Record<AskerName, Asker>;
beforeAll(async () => {
  service = await createTestService();
  world = await buildWorld(service);
  people = await askers(world);
}, 240_000);
afterAll(() => service.close());

const outside = ['nobody', 'expired', 'customer', 'otherCustomer'] as const;
const staff = ['technician', 'stranger', 'dispatcher', 'owner'] as const;
const named = routes.map((route) => [route.operationId, route] as const);

describe('no route', () => {
  it.each(named)('tells or does anything where it may not: %s', async (_, route) => {
    const before = await rowVersions(service);
    for (const asker of [...outside, ...staff]) {
      const addresses = [...missingOf(route), ...malformedOf(route)];
      const all = mayUse(route, asker) ? addresses : [realOf(route), ...addresses];
      // Whoever is nobody here is turned away before anything is looked at.
      for (const address of roleOf[asker] === undefined ? all.slice(0, 2) : all) {
        const { status, text } = await ask(world, route, address, people[asker]);
        expect(status, `${asker} at ${address}: ${text}`).toBe(refusedBy(route, asker, address));
      }
    }
    expect(await rowVersions(service)).toEqual(before);
  });
});

describe('what is another technician’s', () => {
  const open = named.filter(([, route]) => mayUse(route, 'stranger') && ownIn(route).length > 0);

  let release: () => Promise<void>;
  beforeAll(async () => {
    release = await holdRows(service);
  });
  afterAll(() => release());

  it.each(open)(
    'is as if it were not there, in the answer, in the way to it and in what is waited for: %s',
    async (_, route) => {
      const before = await rowVersions(service);
      const real = () => ask(world, route, realOf(route), people.stranger);
      const foreign = await withStatements(real);
      expect(foreign.done.status, foreign.done.text).toBe(404);
      for (const address of missingOf(route)) {
        const nowhere = () => ask(world, route, address, people.stranger);
        const missing = await withStatements(nowhere);
        expect(refusalOf(foreign.done)).toEqual(refusalOf(missing.done));
        expect(foreign.statements).toEqual(missing.statements);
      }
      expect(await rowVersions(service)).toEqual(before);
    },
  );
});

describe('what a technician is told', () => {
  const lists = named.filter(
    ([, route]) => route.method === 'GET' && mayUse(route, 'stranger') && ownIn(route).length === 0,
  );

  it.each(lists)('names nothing that is another’s: %s', async (_, route) => {
    // Who works here is known to everybody who does.
    const { technicianId, staffId, ...ids } = world.ids;
    const own = Object.values(ids).filter((id) => isUuid(id));
    for (const sent of [undefined, ...foreignQueries(route)]) {
      const { status, text } = await ask(world, route, realOf(route), people.stranger, sent);
      // A refusal says again where it was asked, and what it says otherwise is compared below.
      if (status >= 400) continue;
      for (const id of own.filter((each) => !sent?.query.includes(each))) {
        expect(text, `${route.operationId}?${sent?.query}`).not.toContain(id);
      }
    }
  });

  it.each(lists)(
    'is the same, asked for what is another’s or for nothing: %s',
    async (_, route) => {
      for (const sent of foreignQueries(route)) {
        const nothing = { query: sent.query.replace(/=.*/, `=${randomUUID()}`) };
        const foreign = await ask(world, route, realOf(route), people.stranger, sent);
        const missing = await ask(world, route, realOf(route), people.stranger, nothing);
        if (foreign.status < 400) expect(foreign).toEqual(missing);
        else expect(refusalOf(foreign)).toEqual(refusalOf(missing));
      }
    },
  );

  it('is nobody’s number and no cost', async () => {
    const numbers = colleagues.filter(({ key }) => key !== 'technician').map(({ phone }) => phone);
    for (const [, route] of named) {
      if (route.method !== 'GET' || !mayUse(route, 'technician')) continue;
      const { text } = await ask(world, route, realOf(route), people.technician);
      for (const number of numbers) expect(text, route.operationId).not.toContain(number);
    }
  });
});

describe('what is somebody’s', () => {
  // Who signs in or out, or changes a password, does it to themselves, as tests/sign-in shows.
  const used = named.filter(([, { access: who, tag }]) => who !== 'public' && tag !== 'sign-in');

  it.each(used)('is theirs to use, without what they are not told: %s', async (_, route) => {
    for (const asker of ['technician', 'dispatcher', 'owner'] as const) {
      if (!mayUse(route, asker)) continue;
      const { status, text } = await ask(world, route, realOf(route), people[asker]);
      const code = status < 400 ? 'let in' : JSON.parse(text).code;
      expect(turnedAway, `${asker}: ${text}`).not.toContain(code);
      if (status >= 400 || !('response' in route)) continue;
      for (const { path, kind } of saidIn(route.response, JSON.parse(text))) {
        expect(toldTo[kind], `${asker} is told ${path}`).toContain(roleOf[asker]);
        said.add(`${kind} to the ${asker}`);
      }
    }
  });

  it('is told where it may be, or nothing would have been kept back', () => {
    expect([...said].sort()).toEqual([
      'cost to the owner',
      'staff_phone to the dispatcher',
      'staff_phone to the owner',
      'takings to the dispatcher',
      'takings to the owner',
    ]);
  });
});

/** What was marked as confidential and told all the same, to whom. */
const said = new Set<string>();

/** The same question about each thing of another that the question can be about. */
function foreignQueries(route: Route): { query: string }[] {
  const asked = z.toJSONSchema(route.query, { io: 'input', unrepresentable: 'any' });
  return Object.keys(asked.properties ?? {}).flatMap((name) => {
    const id = name === 'payerId' ? world.ids['customerId'] : world.ids[name];
    return id === undefined || !isUuid(id) ? [] : [{ query: `${name}=${id}` }];
  });
}

function isUuid(text: string): boolean {
  return z.uuid().safeParse(text).success;
}

/** How whoever may not do what they ask for is told so. */
const turnedAway = [
  'unauthenticated',
  'forbidden',
  'not-found',
  'malformed-request',
  'validation-failed',
  'internal-error',
];

function refusedBy(route: Route, asker: AskerName, address: string): number {
  if (roleOf[asker] === undefined) return 401;
  if (!mayUse(route, asker)) return 403;
  return malformedOf(route).includes(address) ? 400 : 404;
}

function mayUse({ operationId }: Route, asker: AskerName): boolean {
  const allowed = access[operationId] ?? [];
  const role = roleOf[asker];
  return allowed === 'everybody' || (role !== undefined && allowed.includes(role));
}

/** The parameters of an address that name something of somebody. */
function ownIn(route: Route) {
  return namedIn(route).filter(({ isShared }) => !isShared);
}

function realOf(route: Route): string {
  return addressOf(route, world.ids);
}

/** The same with one thing after the other of which there is none. */
function missingOf(route: Route): string[] {
  return ownIn(route).map(({ of }) =>
    addressOf(route, { ...world.ids, [of]: of === 'sha256' ? '0'.repeat(64) : randomUUID() }),
  );
}

/** The same with one thing after the other in a form that nothing has. */
function malformedOf(route: Route): string[] {
  return ownIn(route).map(({ of }) => addressOf(route, { ...world.ids, [of]: 'of-no-form!' }));
}
