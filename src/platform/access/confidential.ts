import { z } from 'zod';
import type { Role } from './actor.ts';

/**
 * What not everybody on the staff is told, wherever it stands, and who is told it. Who may use a
 * route says the route; which of its fields they get says this table, by how each is marked.
 */
export const toldTo = {
  /** What the company pays for goods and for time, and what it earns on them. */
  cost: ['owner'],
  /** How colleagues are reached at home: the office calls them. */
  staff_phone: ['dispatcher', 'owner'],
  /** What each of the staff took in. */
  takings: ['dispatcher', 'owner'],
} as const satisfies Readonly<Record<string, readonly Role[]>>;

export type Confidential = keyof typeof toldTo;

/**
 * Marks a field of an answer. Whoever is not told it gets the answer without it: by its absence
 * where it is optional, otherwise as null; so it is one of the two. The published interface names
 * who is told.
 */
export function confidential<Schema extends z.ZodType>(schema: Schema, kind: Confidential): Schema {
  return schema.meta({ ...schema.meta(), [KIND]: kind, 'x-told-to': [...toldTo[kind]] });
}

/** Whether a role is told what a schema is marked as. Nobody in particular is told nothing marked. */
export function isTold(schema: z.core.$ZodType, role: Role | undefined): boolean {
  const kind = kindOf(schema);
  if (kind === undefined) return true;
  const roles: readonly Role[] = toldTo[kind];
  return role !== undefined && roles.includes(role);
}

/** What a schema itself is marked as, without what it wraps. */
export function kindOf(schema: z.core.$ZodType): Confidential | undefined {
  const kind = z.globalRegistry.get(schema)?.[KIND];
  return Object.keys(toldTo).find((each): each is Confidential => each === kind);
}

const KIND = 'x-confidential';
