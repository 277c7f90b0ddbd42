import { z } from 'zod';
import { type Confidential, toldTo } from '../../src/platform/access/confidential.ts';

type Schema = z.core.JSONSchema.BaseSchema;

/** A field of an answer that is told to some only. */
export interface MarkedField {
  path: string;
  kind: Confidential;
  schema: Schema;
  /** Whether an answer is in order without it: it may be absent, or null. */
  mayBeMissing: boolean;
}

/** The marked fields of a schema, read from what is published of it. */
export function markedIn(schema: z.ZodType): MarkedField[] {
  const root = publishedOf(schema);
  const seen = new Set<Schema>();
  const look = (at: Schema, path: string): MarkedField[] => {
    if (seen.has(at)) return [];
    seen.add(at);
    const fields = Object.entries(at.properties ?? {}).flatMap(([name, each]) =>
      typeof each === 'object' ? fieldOf(at, name, each, path) : [],
    );
    const inside = insideOf(root, at).flatMap(([name, each]) => look(each, `${path}${name}`));
    return [...fields, ...inside];
  };
  return look(root, '');
}

function fieldOf(of: Schema, name: string, schema: Schema, path: string): MarkedField[] {
  const choices = (schema.anyOf ?? []) as Schema[];
  const marked = [schema, ...choices].find((each) => kindOf(each) !== undefined);
  const kind = marked && kindOf(marked);
  if (marked === undefined || kind === undefined) return [];
  const mayBeNull = [schema, ...choices].some(({ type }) => [type].flat().includes('null'));
  const mayBeMissing = mayBeNull || !(of.required ?? []).includes(name);
  return [{ path: `${path}.${name}`, kind, schema: marked, mayBeMissing }];
}

/** Where an answer says something that is marked, and as what. */
export function saidIn(schema: z.ZodType, answer: unknown): Pick<MarkedField, 'path' | 'kind'>[] {
  const root = publishedOf(schema);
  const look = (at: Schema, value: unknown, path: string): Pick<MarkedField, 'path' | 'kind'>[] => {
    if (value === undefined || value === null) return [];
    const kind = kindOf(at);
    const inside = insideOf(root, at).flatMap(([name, each]) =>
      valuesAt(value, name).flatMap((one) => look(each, one, `${path}${name}`)),
    );
    return kind === undefined ? inside : [{ path, kind }, ...inside];
  };
  return look(root, answer, '');
}

function publishedOf(schema: z.ZodType): Schema {
  return z.toJSONSchema(schema, { io: 'output', unrepresentable: 'any' });
}

function kindOf(schema: Schema): Confidential | undefined {
  const kind = schema['x-confidential'];
  return Object.keys(toldTo).find((each): each is Confidential => each === kind);
}

/** What is directly inside of a schema: `.name` for a field, `[]` for each of many, `` for itself. */
function insideOf(root: Schema, schema: Schema): [string, Schema][] {
  const target = /^#\/(\$defs)\/(.+)$/.exec(schema.$ref ?? '')?.[2];
  const referred = schema.$ref === '#' ? root : target && root.$defs?.[target];
  const choices = [...(schema.anyOf ?? []), ...(schema.oneOf ?? []), ...(schema.allOf ?? [])];
  return [
    ...Object.entries(schema.properties ?? {}).map(([name, each]) => [`.${name}`, each]),
    ...[schema.items, schema.prefixItems ?? [], schema.additionalProperties]
      .flat()
      .map((each) => ['[]', each]),
    ...[...choices, referred].map((each) => ['', each]),
  ].filter((pair): pair is [string, Schema] => typeof pair[1] === 'object' && pair[1] !== null);
}

function valuesAt(value: unknown, name: string): unknown[] {
  if (name === '') return [value];
  if (name === '[]') return typeof value === 'object' && value !== null ? Object.values(value) : [];
  return Object.entries(value ?? {}).flatMap(([key, each]) => (`.${key}` === name ? [each] : []));
}
