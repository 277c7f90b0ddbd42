import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { routes } from '../../src/app.ts';
import { type Role, roles } from '../../src/platform/access/actor.ts';
import { confidential, toldTo } from '../../src/platform/access/confidential.ts';
import { withhold } from '../../src/platform/access/withhold.ts';
import { markedIn, saidIn } from './marked.ts';

const cost = confidential(z.int().optional(), 'cost');
const phone = confidential(z.string().nullable(), 'staff_phone');
const line = z.strictObject({ name: z.string(), cost });

describe('a field that is marked as confidential', () => {
  it('is absent where it is optional, and null where it has to be there', () => {
    const schema = z.strictObject({ cost, phone, name: z.string() });
    const answer = { cost: 1_840, phone: '555-0101', name: 'Capacitor' };
    expect(withhold(schema, answer, 'owner')).toEqual(answer);
    expect(withhold(schema, answer, 'dispatcher')).toEqual({
      phone: '555-0101',
      name: 'Capacitor',
    });
    const bare = { phone: null, name: 'Capacitor' };
    expect(withhold(schema, answer, 'technician')).toEqual(bare);
    expect(withhold(schema, answer, undefined)).toEqual(bare);
  });

  type Tree = { cost?: number | undefined; from: Tree[] };
  const tree: z.ZodType<Tree> = z.strictObject({ cost, from: z.lazy(() => z.array(tree)) });
  const told = { name: 'Capacitor', cost: 1_840 };
  const untold = { name: 'Capacitor' };
  const places: [string, z.ZodType, unknown, unknown][] = [
    ['a list', z.array(line), [told, told], [untold, untold]],
    ['a field of a field', z.strictObject({ of: line }), { of: told }, { of: untold }],
    ['what may be absent', z.strictObject({ of: line.optional() }), { of: told }, { of: untold }],
    ['what may be null', z.strictObject({ of: line.nullable() }), { of: told }, { of: untold }],
    ['what is usual', z.strictObject({ of: line.default(told) }), { of: told }, { of: untold }],
    ['what only reads', z.array(line).readonly(), [told], [untold]],
    ['a record', z.record(z.string(), line), { a: told }, { a: untold }],
    ['a pair', z.tuple([z.string(), line]), ['a', told], ['a', untold]],
    ['the rest of a tuple', z.tuple([z.string()]).rest(line), ['a', told], ['a', untold]],
    ['one of two forms', z.union([z.string(), line]), told, untold],
    ['both of two', z.intersection(z.looseObject({}), z.looseObject({ cost })), told, untold],
    [
      'a form that a field tells',
      z.discriminatedUnion('kind', [
        z.strictObject({ kind: z.literal('part'), cost }),
        z.strictObject({ kind: z.literal('fee') }),
      ]),
      { kind: 'part', cost: 1_840 },
      { kind: 'part' },
    ],
    ['further fields', z.object({}).catchall(cost), { any: 1_840 }, {}],
    [
      'a tree of any depth',
      tree,
      { from: [{ from: [{ cost: 1_840, from: [] }] }] },
      { from: [{ from: [{ from: [] }] }] },
    ],
    ['a schema with a condition', line.refine(() => true), told, untold],
    [
      'some of the fields',
      z.strictObject({ of: line.pick({ cost: true }) }),
      { of: { cost: 1 } },
      { of: {} },
    ],
    [
      'a schema that was extended',
      line.extend({ more: z.int() }),
      { ...told, more: 1 },
      { name: 'Capacitor', more: 1 },
    ],
    ['a schema made partial', line.partial(), told, untold],
  ];
  it.each(places)('is kept back in %s', (_, schema, answer, kept) => {
    expect(withhold(schema, z.encode(schema, answer), 'technician')).toEqual(kept);
    expect(withhold(schema, z.encode(schema, answer), 'owner')).toEqual(answer);
    expect(saidIn(schema, kept)).toEqual([]);
    expect(saidIn(schema, answer)).not.toEqual([]);
  });

  it('that can neither be absent nor null is our mistake, and is not told', () => {
    const schema = z.strictObject({ cost: confidential(z.int(), 'cost') });
    expect(() => withhold(schema, { cost: 1_840 }, 'technician')).toThrow('optional or nullable');
  });
});

describe('what is published', () => {
  const marked = routes.flatMap((route) =>
    'response' in route
      ? markedIn(route.response).map((field) => ({ route, ...field, of: route.operationId }))
      : [],
  );

  it('names who is told each marked field, by the one table', () => {
    expect(marked.length).toBeGreaterThan(20);
    for (const { kind, schema } of marked) expect(schema['x-told-to']).toEqual(toldTo[kind]);
    expect(new Set(marked.map(({ kind }) => kind))).toEqual(new Set(Object.keys(toldTo)));
  });

  it.each(marked)('$of can be answered without $path', ({ route, kind, mayBeMissing }) => {
    const asking = roles.filter((role) => route.access !== 'public' && route.access.includes(role));
    const told: readonly Role[] = toldTo[kind];
    if (asking.every((role) => told.includes(role))) return;
    expect(mayBeMissing).toBe(true);
  });
});
