import fc from 'fast-check';
import { hostileTexts, oneHostile } from './hostile-value.ts';
import type { Operation, Parameter } from './read-contract.ts';
import { spoiltRequest } from './spoilt-request.ts';
import { validValue } from './valid-value.ts';
import { varyValue } from './vary-value.ts';
import type { Prepared, World } from './world.ts';

/**
 * What is meant by a request: what the operation needs; anything the contract allows; that with one
 * thing wrong; or something that is hardly a request.
 */
export type Mood = 'good' | 'drawn' | 'near' | 'spoilt';

/** One request as it goes over the wire. */
export interface WireRequest {
  method: string;
  path: string;
  query: readonly (readonly [string, string])[];
  headers: Record<string, string | string[]>;
  body: Uint8Array | undefined;
  /** It may lead to another operation than it was made for, or to none. */
  isAstray: boolean;
}

/** Requests to one operation in one mood. */
export function requestOf(
  operation: Operation,
  mood: Mood,
  { prepared, world, tag }: { prepared: Prepared; world: World; tag: string },
): fc.Arbitrary<WireRequest> {
  const plain = fc
    .record({
      params: paramsOf(operation, prepared, world),
      query: queryOf(operation, mood, prepared, world),
      body: bodyOf(operation, mood, prepared, world),
      key: fc.uuid({ version: 4 }),
    })
    .map((parts) => ({
      ...parts,
      headers: headersOf(operation, prepared.ifMatch ?? tag, parts.key),
    }));
  if (mood === 'good' || mood === 'drawn') return plain.map((parts) => wired(operation, parts));
  if (mood === 'spoilt') {
    return plain.map((parts) => wired(operation, parts)).chain(spoiltRequest);
  }
  return plain.chain((parts) => oneWrong(operation, parts)).map((parts) => wired(operation, parts));
}

interface Parts {
  params: Record<string, string>;
  query: [string, string][];
  headers: Record<string, string>;
  body: Payload | undefined;
}

type Payload = { json: unknown } | { mediaType: string; bytes: Uint8Array };

function paramsOf({ params }: Operation, prepared: Prepared, { known }: World) {
  const drawn = params.map(({ name, schema }) => {
    const given = prepared.params?.[name];
    const value = given === undefined ? validValue(schema, name, known) : fc.constant(given);
    return value.map((each) => [name, textOf(each)] as const);
  });
  return fc.tuple(...drawn).map((pairs) => Object.fromEntries(pairs));
}

function queryOf(
  operation: Operation,
  mood: Mood,
  prepared: Prepared,
  { known }: World,
): fc.Arbitrary<[string, string][]> {
  const given = prepared.query ?? {};
  const others = operation.query.filter(({ name }) => !(name in given));
  const isExact = mood === 'good' && prepared.query !== undefined;
  const drawn = others.map(({ name, required, schema }: Parameter) => {
    const cursors = known.of(`cursors of ${operation.operationId}`);
    if (name === 'cursor' && cursors.length === 0) return fc.constant([]);
    const value = name === 'cursor' ? fc.constantFrom(...cursors) : validValue(schema, name, known);
    const present = value.map((each): [string, string][] => [[name, textOf(each)]]);
    if (required) return present;
    if (isExact) return fc.constant([]);
    return fc.oneof({ weight: 4, arbitrary: fc.constant([]) }, { weight: 1, arbitrary: present });
  });
  return fc.tuple(...drawn).map((pairs) => [...Object.entries(given), ...pairs.flat()]);
}

function bodyOf(
  { bodies }: Operation,
  mood: Mood,
  prepared: Prepared,
  { known }: World,
): fc.Arbitrary<Payload | undefined> {
  const [first] = bodies;
  if (first === undefined) return fc.constant(undefined);
  const [mediaType, schema] = first;
  if (mediaType !== 'application/json') return fileOf(bodies, mood, prepared);
  if (mood === 'drawn') return validValue(schema, '', known).map((json) => ({ json }));
  const good =
    prepared.body === undefined
      ? validValue(schema, '', known)
      : varyValue(schema, prepared.body, known);
  return good.map((json) => ({ json }));
}

function fileOf(
  bodies: Operation['bodies'],
  mood: Mood,
  { file }: Prepared,
): fc.Arbitrary<Payload> {
  const good = file ?? { mediaType: bodies[0]?.[0] ?? '', bytes: new Uint8Array() };
  if (mood === 'good') return fc.constant(good);
  const mediaType = fc.constantFrom(...bodies.map(([each]) => each));
  const broken = fc
    .tuple(fc.nat(good.bytes.length), fc.uint8Array({ maxLength: 60 }), fc.nat(200))
    .map(([at, more, skipped]) =>
      Buffer.concat([good.bytes.slice(0, at), more, good.bytes.slice(at + skipped)]),
    );
  const bytes = fc.oneof(broken, fc.constant(good.bytes), fc.uint8Array({ maxLength: 300 }));
  return fc.record({ mediaType, bytes });
}

function headersOf(operation: Operation, tag: string, key: string): Record<string, string> {
  return {
    ...(operation.needsKey && { 'idempotency-key': key }),
    ...(operation.needsMatch && { 'if-match': tag }),
  };
}

const hostileKeys = [
  '',
  ' ',
  '""',
  '"a", "b"',
  'x'.repeat(300),
  'caf\xe9',
  '%00',
  '__proto__',
  '*',
];
const hostileTags = ['', '*', 'v1', '"v1"', 'W/"v1"', '"v1", "v2"', '"v99999999999999999999"', '"'];

/** One wrong thing in one part of a request. */
function oneWrong(operation: Operation, parts: Parts): fc.Arbitrary<Parts> {
  const wrongText = fc.constantFrom(...hostileTexts.filter((each) => each.length < 5_000));
  const ways: { weight: number; arbitrary: fc.Arbitrary<Parts> }[] = [];
  const { body } = parts;
  if (body !== undefined && 'json' in body) {
    ways.push({
      weight: 8,
      arbitrary: oneHostile(body.json).map((json) => ({ ...parts, body: { json } })),
    });
  }
  const names = Object.keys(parts.params);
  if (names.length > 0) {
    const wrong = fc.tuple(fc.constantFrom(...names), wrongText);
    ways.push({
      weight: 2,
      arbitrary: wrong.map(([name, text]) => ({
        ...parts,
        params: { ...parts.params, [name]: text || 'absent' },
      })),
    });
  }
  const asked = [...operation.query.map(({ name }) => name), 'stranger'];
  const wrongQuery = fc.tuple(fc.constantFrom(...asked), wrongText, fc.boolean());
  ways.push({
    weight: operation.query.length > 0 ? 4 : 1,
    arbitrary: wrongQuery.map(([name, text, beside]) => ({
      ...parts,
      // Beside a good one of the same name it stands twice.
      query: [...parts.query.filter(([each]) => beside || each !== name), [name, text]],
    })),
  });
  for (const [name, values] of [
    ['idempotency-key', hostileKeys],
    ['if-match', hostileTags],
  ] as const) {
    if (!(name in parts.headers)) continue;
    ways.push({
      weight: 1,
      arbitrary: fc
        .constantFrom(...values)
        .map((value) => ({ ...parts, headers: { ...parts.headers, [name]: value } })),
    });
  }
  return fc.oneof(...ways);
}

function wired(operation: Operation, { params, query, headers, body }: Parts): WireRequest {
  const path = operation.path.replace(/\{(\w+)\}/g, (_, name: string) =>
    encodeURIComponent((params[name] ?? 'absent').toWellFormed()),
  );
  const mediaType =
    body === undefined ? undefined : 'json' in body ? 'application/json' : body.mediaType;
  return {
    method: operation.method,
    path,
    query: query.map(([name, value]) => [name, value.toWellFormed()] as const),
    headers: { ...headers, ...(mediaType !== undefined && { 'content-type': mediaType }) },
    body: bytesOf(body),
    isAstray: false,
  };
}

function bytesOf(body: Payload | undefined): Uint8Array | undefined {
  if (body === undefined) return undefined;
  if ('bytes' in body) return body.bytes;
  // A body of nothing, where a drop left none, is sent as nothing.
  const text: string | undefined = JSON.stringify(body.json);
  return text === undefined ? undefined : Buffer.from(text);
}

function textOf(value: unknown): string {
  return typeof value === 'string' ? value : JSON.stringify(value);
}
