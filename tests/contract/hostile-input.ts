import fc from 'fast-check';
import { z } from 'zod';

/** Identifiers of things that exist, by the name of the field, so that requests get past 404. */
export type KnownIds = Readonly<Record<string, readonly string[]>>;

type Json = fc.Arbitrary<unknown>;
type Schema = z.core.JSONSchema.BaseSchema;

/**
 * Input that is as the schema wants it, in three of five cases with something hostile here and
 * there: the first gets past the front door, the second is what this is for.
 */
export function hostileInput(schema: z.ZodType, ids: KnownIds): Json {
  const json = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' });
  return fc.oneof(
    { weight: 2, arbitrary: inputFor(json, '', { ids, hostility: 0 }) },
    { weight: 3, arbitrary: inputFor(json, '', { ids, hostility: 1 }) },
  );
}

interface Mood {
  ids: KnownIds;
  /** Of fifteen values, how many are hostile. */
  hostility: 0 | 1;
}

/** The same for a query or an address, where everything is text. */
export function hostileText(schema: z.ZodType, ids: KnownIds): fc.Arbitrary<[string, string][]> {
  return hostileInput(schema, ids).map((value) =>
    isObject(value) ? Object.entries(value).map(([name, each]) => [name, textOf(each)]) : [],
  );
}

const hostileTexts = [
  '',
  ' ',
  '\u0000',
  'a\u0000b',
  '\ud800',
  'ab\udfff',
  '\u202e\u200b\ufeff',
  '%',
  "'; --",
  '__proto__',
  'constructor',
  'null',
  '-0',
  '../../x',
  '{{7*7}}',
  '<script>alert(1)</script>',
  '😀'.repeat(40),
  'x'.repeat(5_000),
];

const hostileNumbers = [
  0,
  -1,
  -0,
  0.1,
  1e-320,
  1.5,
  2 ** 31,
  2 ** 53,
  2 ** 63,
  1e21,
  1e308,
  -1e308,
];

const hostileValue: Json = fc.oneof(
  fc.constantFrom(...hostileTexts),
  fc.constantFrom(...hostileNumbers),
  fc.constantFrom(null, true, false),
  fc.constantFrom<unknown>([], {}, [[]], { length: 2 }, { constructor: { prototype: {} } }),
  fc.constant(JSON.parse('{"__proto__":{"isAdmin":true}}')),
  fc.array(fc.constantFrom(...hostileTexts), { minLength: 1, maxLength: 60 }),
  fc.jsonValue({ maxDepth: 2 }),
);

function inputFor(schema: Schema, name: string, mood: Mood): Json {
  return fc.oneof(
    { weight: mood.hostility, arbitrary: hostileValue },
    { weight: 14, arbitrary: asWanted(schema, name, mood) },
  );
}

function asWanted(schema: Schema, name: string, mood: Mood): Json {
  const choices = schema.anyOf ?? schema.oneOf;
  if (choices !== undefined) {
    return fc.oneof(...choices.map((each) => inputFor(each as Schema, name, mood)));
  }
  if (schema.enum !== undefined) return fc.constantFrom(...schema.enum);
  if (schema.const !== undefined) return fc.constant(schema.const);
  switch (schema.type) {
    case 'object':
      return objectLike(schema, mood);
    case 'array':
      return fc.array(inputFor((schema.items ?? {}) as Schema, name, mood), {
        minLength: schema.minItems ?? 0,
        maxLength: Math.min(schema.maxItems ?? 3, 3),
      });
    case 'string':
      return textLike(schema, name, mood.ids);
    case 'integer':
    case 'number':
      return numberLike(schema);
    case 'boolean':
      return fc.boolean();
    default:
      return hostileValue;
  }
}

function objectLike(schema: Schema, mood: Mood): Json {
  const required = new Set(schema.required ?? []);
  const members = Object.entries(schema.properties ?? {}).map(([name, member]) => {
    const present = inputFor(member as Schema, name, mood).map((value) => [[name, value] as const]);
    return fc.oneof(
      { weight: required.has(name) ? 30 : 1, arbitrary: present },
      { weight: required.has(name) ? mood.hostility : 1, arbitrary: fc.constant([]) },
    );
  });
  const stranger = fc.oneof(
    { weight: 25, arbitrary: fc.constant([]) },
    { weight: mood.hostility, arbitrary: hostileValue.map((value) => [['stranger', value]]) },
    { weight: mood.hostility, arbitrary: hostileValue.map((value) => [['__proto__', value]]) },
  );
  // Object.fromEntries defines members instead of assigning them, so __proto__ stays a plain key.
  return fc.tuple(...members, stranger).map((parts) => Object.fromEntries(parts.flat()));
}

const instants = [
  '2026-07-15T18:00:00Z',
  '2026-07-15T20:00:00.000Z',
  '2026-07-15T18:00Z',
  '2020-01-01T00:00:00.123456789Z',
  '0000-01-01T00:00:00Z',
  '0001-01-01T00:00:00Z',
  '1899-12-31T23:59:59Z',
  '9999-12-31T23:59:59.999Z',
];
const days = ['2026-07-15', '2020-02-29', '0000-01-01', '0001-01-01', '9999-12-31'];

function textLike(schema: Schema, name: string, ids: KnownIds): fc.Arbitrary<string> {
  if (schema.format === 'uuid') {
    return fc.oneof(
      { weight: 8, arbitrary: fc.constantFrom(...(ids[name] ?? Object.values(ids).flat())) },
      { weight: 1, arbitrary: fc.constantFrom(...Object.values(ids).flat()) },
      { weight: 1, arbitrary: fc.uuid() },
    );
  }
  if (schema.format === 'date-time') return fc.constantFrom(...instants);
  if (schema.format === 'date') return fc.constantFrom(...days);
  if (schema.format === 'email') return fc.constant('winifred@example.com');
  if (schema.pattern !== undefined) {
    return fc.oneof(
      fc.constantFrom('quill_county', 'no_cooling', 'CAP-45-5-440', '0'.repeat(64), '0.0825', '1'),
      fc.stringMatching(new RegExp(schema.pattern)),
    );
  }
  const minLength = schema.minLength ?? 0;
  const maxLength = Math.min(schema.maxLength ?? 40, 40);
  return fc.oneof(
    { weight: 3, arbitrary: fc.constantFrom('555-0111', 'CAP-45-5-440') },
    { weight: 1, arbitrary: fc.string({ unit: 'binary', minLength, maxLength }) },
  );
}

function numberLike(schema: Schema): fc.Arbitrary<number> {
  const min = schema.minimum ?? -1e9;
  const max = schema.maximum ?? 1e9;
  const whole = fc.integer({
    min: Math.max(Math.ceil(min), -(2 ** 31)),
    max: Math.max(Math.min(Math.floor(max), 2 ** 31 - 1), Math.ceil(min)),
  });
  if (schema.type === 'integer') return fc.oneof(whole, fc.constantFrom(min, max));
  return fc.oneof(whole, fc.double({ min, max, noNaN: true }), fc.constantFrom(min, max));
}

function textOf(value: unknown): string {
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  // An address cannot hold half a surrogate pair.
  return text.toWellFormed();
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
