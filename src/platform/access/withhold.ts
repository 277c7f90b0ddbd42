import { z } from 'zod';
import type { Role } from './actor.ts';
import { isTold, kindOf } from './confidential.ts';

type Schema = z.core.$ZodType;

/**
 * An answer as a role is told it: without the fields that its schema marks as confidential for
 * others, however deep they stand. What is marked in one form of a choice is left out in all.
 * @throws Error for a marked field that can neither be absent nor null
 */
export function withhold(schema: Schema, answer: unknown, role: Role | undefined): unknown {
  if (!holdsMarked(schema)) return answer;
  // The class of all schemas is not told apart by its types; this union of zod's own is the same.
  const { def } = (schema as z.core.$ZodTypes)._zod;
  switch (def.type) {
    case 'object':
      return isFields(answer) ? fieldsFor(def, answer, role) : answer;
    case 'array':
      return Array.isArray(answer)
        ? answer.map((each) => withhold(def.element, each, role))
        : answer;
    case 'tuple':
      return Array.isArray(answer)
        ? answer.map((each, at) => withholdAt(def.items[at] ?? def.rest, each, role))
        : answer;
    case 'record':
      return isFields(answer)
        ? Object.fromEntries(
            Object.entries(answer).map(([name, each]) => [
              name,
              withhold(def.valueType, each, role),
            ]),
          )
        : answer;
    default:
      return insideOf(schema).reduce(
        (told: unknown, inside) => withhold(inside, told, role),
        answer,
      );
  }
}

function withholdAt(schema: Schema | null | undefined, each: unknown, role: Role | undefined) {
  return schema ? withhold(schema, each, role) : each;
}

type Fields = Readonly<Record<string, unknown>>;

function isFields(answer: unknown): answer is Fields {
  return typeof answer === 'object' && answer !== null && !Array.isArray(answer);
}

function fieldsFor(
  { shape, catchall }: z.core.$ZodObjectDef,
  answer: Fields,
  role: Role | undefined,
): Fields {
  const told = Object.entries(answer).flatMap(([name, value]): [string, unknown][] => {
    const field = shape[name] ?? catchall;
    if (field === undefined) return [[name, value]];
    if (layersOf(field).every((layer) => isTold(layer, role))) {
      return [[name, withhold(field, value, role)]];
    }
    if (z.safeParse(field, undefined).success) return [];
    if (z.safeParse(field, null).success) return [[name, null]];
    throw new Error(`${name} is confidential, so it must be optional or nullable`);
  });
  return Object.fromEntries(told);
}

/** A schema and what it wraps: a mark may stand on any of them. */
function layersOf(schema: Schema): Schema[] {
  const layers = [schema];
  for (let inner = wrappedBy(schema); inner !== undefined; inner = wrappedBy(inner)) {
    layers.push(inner);
  }
  return layers;
}

function wrappedBy(schema: Schema): Schema | undefined {
  const { def } = (schema as z.core.$ZodTypes)._zod;
  return 'innerType' in def ? def.innerType : undefined;
}

/** What stands directly inside of a schema. */
function insideOf(schema: Schema): readonly Schema[] {
  const { def } = (schema as z.core.$ZodTypes)._zod;
  switch (def.type) {
    case 'object':
      return [...Object.values(def.shape), ...(def.catchall ? [def.catchall] : [])];
    case 'array':
      return [def.element];
    case 'tuple':
      return [...def.items, ...(def.rest ? [def.rest] : [])];
    case 'record':
      return [def.valueType];
    case 'union':
      return def.options;
    case 'intersection':
      return [def.left, def.right];
    case 'lazy':
      return [def.getter()];
    case 'pipe':
      // What leaves is what would be sent in.
      return [def.in];
    default:
      return 'innerType' in def ? [def.innerType] : [];
  }
}

/** Most answers hold nothing marked, and are told whole without a look inside. */
function holdsMarked(schema: Schema): boolean {
  const known = marked.get(schema);
  if (known !== undefined) return known;
  const seen = new Set<Schema>();
  const toSee = [schema];
  let found = false;
  for (let each = toSee.pop(); each !== undefined && !found; each = toSee.pop()) {
    if (seen.has(each)) continue;
    seen.add(each);
    found = kindOf(each) !== undefined;
    toSee.push(...insideOf(each));
  }
  marked.set(schema, found);
  return found;
}

const marked = new WeakMap<Schema, boolean>();
