import fc from 'fast-check';
import type { KnownThings } from './known-things.ts';
import type { Schema } from './read-contract.ts';
import { isObject, schemaOf, validValue } from './valid-value.ts';

/** A good value with other words in it, and now and then a field more: still good. */
export function varyValue(
  schema: Schema,
  value: unknown,
  known: KnownThings,
): fc.Arbitrary<unknown> {
  if (!isObject(value)) return fc.constant(value);
  const properties = schemaOf(schema['properties']);
  const members = Object.entries(value).map(([name, member]) =>
    varyMember(schemaOf(properties[name]), name, member, known).map((each) => [name, each]),
  );
  const absent = Object.keys(properties).filter((name) => !(name in value));
  const one = (name: string) =>
    validValue(schemaOf(properties[name]), name, known).map((each) => [[name, each]]);
  const more = fc.oneof(
    { weight: 5, arbitrary: fc.constant([]) },
    {
      weight: 1,
      arbitrary: absent.length === 0 ? fc.constant([]) : fc.constantFrom(...absent).chain(one),
    },
  );
  return fc
    .tuple(fc.tuple(...members), more)
    .map(([own, added]) => Object.fromEntries([...own, ...added]));
}

/** Words that name something, where others would mean another thing or none. */
const NAMES_SOMETHING =
  /(code|key|unit|Id|Hash|By|statement|aimedAt|refrigerant|number|supplier|email|token)$/i;

function varyMember(
  schema: Schema,
  name: string,
  value: unknown,
  known: KnownThings,
): fc.Arbitrary<unknown> {
  const isWords =
    schema['type'] === 'string' && !('format' in schema || 'pattern' in schema || 'enum' in schema);
  if (!isWords || NAMES_SOMETHING.test(name)) return fc.constant(value);
  return fc.oneof(fc.constant(value), validValue(schema, name, known));
}
