import fc from 'fast-check';
import { isObject } from './valid-value.ts';

/** A good value with one thing wrong in it: a member replaced, dropped, or one too many. */
export function oneHostile(value: unknown): fc.Arbitrary<unknown> {
  const places = placesIn(value);
  return fc.oneof(
    { weight: 6, arbitrary: replaceOne(value, places) },
    { weight: 1, arbitrary: dropOne(value, places) },
    { weight: 1, arbitrary: addOne(value) },
  );
}

/** Words that are hard on whoever reads them: not text, not visible, not names, too long. */
export const hostileTexts = [
  '',
  ' ',
  '\u0000',
  'a\u0000b',
  '\ud800',
  'ab\udfff',
  '\u202etxt.exe\u202c',
  '\u200b\ufeff',
  '\u001b[31m',
  'a\r\nX-Injected: 1',
  '%00',
  "'; DROP TABLE ticket; --",
  '$1',
  '__proto__',
  'constructor',
  'toString',
  'null',
  'NaN',
  'Infinity',
  '-0',
  '1e400',
  '0x10',
  '../../etc/passwd',
  '{{7*7}}',
  '=1+1',
  '<script>alert(1)</script>',
  '😀'.repeat(40),
  `e${'\u0301'.repeat(500)}`,
  'x'.repeat(5_000),
  '00000000-0000-0000-0000-000000000000',
  '0000-01-01',
  '2026-02-30',
  '9999-12-31',
  '0000-01-01T00:00:00Z',
  '9999-12-31T23:59:59.999Z',
  '2026-07-14T24:00:00Z',
  '2026-07-14T18:00:60Z',
  '2026-07-14 18:00',
];

const hostileNumbers = [
  -1,
  -0,
  0,
  0.1,
  0.30000000000000004,
  1e-320,
  2 ** 31,
  -(2 ** 31) - 1,
  2 ** 32,
  2 ** 53,
  2 ** 63,
  1e21,
  1e308,
  -1e308,
];

const nested = (depth: number): unknown =>
  Array.from({ length: depth }).reduce((inner: unknown) => [inner], []);

export const hostileValue: fc.Arbitrary<unknown> = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom<unknown>(...hostileTexts) },
  { weight: 3, arbitrary: fc.constantFrom<unknown>(...hostileNumbers) },
  {
    weight: 3,
    arbitrary: fc.constantFrom<unknown>(
      ...[null, true, [], {}, [[]], { length: 2 }, { constructor: { prototype: {} } }],
      nested(50),
    ),
  },
  { weight: 1, arbitrary: fc.array(fc.constantFrom(...hostileTexts), { maxLength: 60 }) },
  { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 80 }) },
  { weight: 1, arbitrary: fc.jsonValue({ maxDepth: 2 }) },
);

type Place = readonly (string | number)[];

/** Where something stands in a value, the whole included. */
function placesIn(value: unknown, at: Place = []): Place[] {
  if (at.length > 6) return [at];
  const inside = Array.isArray(value)
    ? value.slice(0, 3).flatMap((each, index) => placesIn(each, [...at, index]))
    : isObject(value)
      ? Object.entries(value).flatMap(([name, each]) => placesIn(each, [...at, name]))
      : [];
  return [at, ...inside];
}

function replaceOne(value: unknown, places: readonly Place[]): fc.Arbitrary<unknown> {
  return fc
    .tuple(fc.constantFrom(...places), hostileValue)
    .map(([place, hostile]) => changedAt(value, place, () => hostile));
}

function dropOne(value: unknown, places: readonly Place[]): fc.Arbitrary<unknown> {
  return fc.constantFrom(...places).map((place) => changedAt(value, place, () => undefined));
}

/** A member that nobody asked for; among them names that a language might fall for. */
function addOne(value: unknown): fc.Arbitrary<unknown> {
  const names = fc.constantFrom('stranger', '__proto__', 'constructor', 'isAdmin', 'id', '');
  return fc.tuple(names, hostileValue).map(([name, hostile]) => {
    if (!isObject(value)) return [value, hostile];
    // Defined instead of assigned, so that __proto__ stays a plain member.
    return Object.fromEntries([...Object.entries(value), [name, hostile]]);
  });
}

function changedAt(value: unknown, [at, ...rest]: Place, change: () => unknown): unknown {
  if (at === undefined) return change();
  if (Array.isArray(value)) {
    return value.map((each, index) => (index === at ? changedAt(each, rest, change) : each));
  }
  if (!isObject(value)) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, each]) => [
      name,
      name === at ? changedAt(each, rest, change) : each,
    ]),
  );
}
