import fc from 'fast-check';
import type { KnownThings } from './known-things.ts';
import type { Schema } from './read-contract.ts';

/** A value as the contract describes it; a name says what an identifier points to. */
export function validValue(
  schema: Schema,
  name: string,
  known: KnownThings,
): fc.Arbitrary<unknown> {
  const choices = listOf(schema['anyOf'] ?? schema['oneOf']);
  if (choices.length > 0) return fc.oneof(...choices.map((each) => validValue(each, name, known)));
  if (Array.isArray(schema['enum'])) return fc.constantFrom<unknown>(...schema['enum']);
  if ('const' in schema) return fc.constant(schema['const']);
  switch (schema['type']) {
    case 'object':
      return objectValue(schema, known);
    case 'array':
      return fc.array(validValue(schemaOf(schema['items']), name, known), {
        minLength: numberOf(schema['minItems'], 0),
        maxLength: Math.max(
          Math.min(numberOf(schema['maxItems'], 3), 3),
          numberOf(schema['minItems'], 0),
        ),
      });
    case 'string':
      return textValue(schema, name, known);
    case 'integer':
    case 'number':
      return numberValue(schema);
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    default:
      return fc.constantFrom<unknown>(null, true, 'text');
  }
}

function objectValue(schema: Schema, known: KnownThings): fc.Arbitrary<unknown> {
  const required = new Set(listOf(schema['required']).map(String));
  const members = Object.entries(schemaOf(schema['properties'])).map(([name, member]) => {
    const present = validValue(schemaOf(member), name, known).map((value) => [[name, value]]);
    if (required.has(name)) return present;
    return fc.oneof({ weight: 3, arbitrary: fc.constant([]) }, { weight: 1, arbitrary: present });
  });
  return fc.tuple(...members).map((parts) => Object.fromEntries(parts.flat()));
}

/** What a word of a certain name usually is, so that its request gets past the first look. */
const USUAL: Readonly<Record<string, readonly string[]>> = {
  phone: ['555-0111', '(555) 555-0123', '+1 555 555 0144'],
  jurisdiction: ['quill_county'],
  partCode: ['CAP-45-5-440', 'CON-2P-30-24', 'FLOAT-1'],
  refrigerant: ['R-410A'],
  planCode: ['two_visits'],
  unit: ['V', 'A', 'uF'],
  rate: ['0.0825', '0'],
  day: ['2026-07-14', '2026-07-20', '2026-08-03'],
  state: ['new', 'draft', 'issued', 'open', 'booked', 'sent', 'queued'],
};

/** Around the day on which everything happens, and two odd ones. */
const DAYS = ['2026-07-13', '2026-07-14', '2026-07-20', '2026-12-31', '2028-02-29', '2031-01-06'];
const INSTANTS = [
  '2026-07-14T18:00:00Z',
  '2026-07-13T09:30:00.250Z',
  '2026-07-20T18:00:00Z',
  '2026-07-20T20:00:00Z',
  '2031-01-06T18:00:00Z',
];

function textValue(schema: Schema, name: string, known: KnownThings): fc.Arbitrary<string> {
  const ids = known.of(known.collectionOf(name) ?? '');
  if (schema['format'] === 'uuid') {
    const real = ids.length > 0 ? ids : known.all();
    return real.length > 0 ? fc.constantFrom(...real) : fc.uuid({ version: 7 });
  }
  if (name === 'sha256' && ids.length > 0) return fc.constantFrom(...ids);
  if (schema['format'] === 'date') return fc.constantFrom(...DAYS);
  if (schema['format'] === 'date-time') return fc.constantFrom(...INSTANTS);
  if (schema['format'] === 'email') {
    return fc.constantFrom('winifred@example.com', 'w.a+1@mail.example.com');
  }
  const usual = USUAL[name];
  if (usual !== undefined) return fc.constantFrom(...usual);
  if (typeof schema['pattern'] === 'string')
    return fc.stringMatching(new RegExp(schema['pattern']));
  return wordsOf(numberOf(schema['minLength'], 0), numberOf(schema['maxLength'], 60));
}

/** What people type, in several scripts, as long as may be. */
function wordsOf(minLength: number, maxLength: number): fc.Arbitrary<string> {
  const word = fc.constantFrom(
    'Warm air',
    'ñandú',
    'O’Hara',
    '温かい',
    'שלום',
    '😀',
    '3 & <4>',
    'e\u0301',
  );
  return fc.array(word, { minLength: 1, maxLength: 12 }).map((words) => {
    const text = words.join(' ').slice(0, Math.max(maxLength, 1)).toWellFormed();
    return text.replaceAll('\ufffd', '').trim().padEnd(minLength, 'x');
  });
}

function numberValue(schema: Schema): fc.Arbitrary<number> {
  const above = numberOf(schema['exclusiveMinimum'], Number.NaN);
  const min = Number.isNaN(above) ? numberOf(schema['minimum'], -1_000) : above + 0.5;
  const max = numberOf(schema['maximum'], 1_000_000);
  const whole = fc.integer({
    min: Math.ceil(Math.max(min, -(2 ** 31))),
    max: Math.floor(Math.min(max, 2 ** 31 - 1)),
  });
  const small = fc.integer({
    min: Math.ceil(Math.max(min, -(2 ** 31))),
    max: Math.floor(Math.min(Math.max(min + 10, 10), max)),
  });
  if (schema['type'] === 'integer') return fc.oneof(small, whole);
  return fc.oneof(
    small,
    whole,
    small.map((value) => Math.min(value + 0.25, max)),
  );
}

function numberOf(value: unknown, otherwise: number): number {
  return typeof value === 'number' ? value : otherwise;
}

/** A keyword that holds a schema; nothing is asked of what has none. */
export function schemaOf(value: unknown): Schema {
  return isObject(value) ? value : {};
}

function listOf(value: unknown): Schema[] {
  return Array.isArray(value) ? value : [];
}

export function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
