import pg from 'pg';
import { expect } from 'vitest';
import type { Statement } from './rows.ts';

/** SQLSTATE of what a guard answers with. */
export const check = '23514';
export const exclusion = '23P01';
export const foreignKey = '23503';
export const unique = '23505';
export const restrict = '23001';

/** How the server names its refusal. */
export interface Refusal {
  sqlState: string | undefined;
  constraint: string | undefined;
}

/** One attempt to break one guard. Every list of statements runs in a transaction of its own. */
export interface GuardCase {
  /** What is refused and what is not, in words. */
  title: string;
  /** The constraint, trigger or index under test. */
  guard: string;
  sqlState: string;
  /** The name the refusal gives, where a trigger knows several. */
  says?: string;
  breaks: Statement[];
  /** Neighbours that must go through. */
  allows: Statement[][];
  /** Other guards in front of this one, taken away so that it is met. */
  behind?: string[];
  /** Triggers on both sides of a sum that fire together. */
  together?: string[];
  /** What refuses when this guard is gone; without it, the attempt must then go through. */
  secondLine?: { sqlState: string; constraint: string };
}

/** Every name a case proves. */
export function provenBy({ guard, says, together = [] }: GuardCase): string[] {
  return [guard, ...together, ...(says === undefined ? [] : [says])];
}

/**
 * Holds one guard to its word: it refuses the attempt under its own name, lets the neighbours
 * through, and is what refuses: with the guard taken away the same attempt succeeds.
 */
export async function proveGuard(owner: pg.Pool, guardCase: GuardCase): Promise<void> {
  const { guard, says = guard, sqlState, breaks, allows, behind = [] } = guardCase;
  const { together = [], secondLine } = guardCase;
  expect(await attempt(owner, breaks, behind)).toEqual({ sqlState, constraint: says });
  for (const neighbour of allows) expect(await attempt(owner, neighbour, behind)).toBeUndefined();
  const unguarded = await attempt(owner, breaks, [...behind, guard, ...together]);
  expect(unguarded, `without ${guard}`).toEqual(secondLine);
}

/**
 * Runs statements in a transaction up to the point of its commit, and rolls it back.
 * @param without guards that are taken away first
 * @returns the refusal, or undefined when everything went through
 */
export async function attempt(
  owner: pg.Pool,
  statements: Statement[],
  without: string[] = [],
): Promise<Refusal | undefined> {
  const client = await owner.connect();
  try {
    await client.query('BEGIN');
    for (const guard of without) await client.query(await removalOf(client, guard));
    for (const statement of statements) await client.query(statement);
    await client.query('SET CONSTRAINTS ALL IMMEDIATE');
    return undefined;
  } catch (error) {
    return refusalOf(error);
  } finally {
    await client.query('ROLLBACK');
    client.release();
  }
}

/** Code and constraint of a server error; anything else is thrown on. */
export function refusalOf(error: unknown): Refusal {
  if (!(error instanceof pg.DatabaseError)) throw error;
  return { sqlState: error.code, constraint: error.constraint };
}

async function removalOf(client: pg.ClientBase, guard: string): Promise<string> {
  const found = await client.query<{ removal: string }>(REMOVAL, [guard]);
  const removal = found.rows[0]?.removal;
  if (removal === undefined) throw new Error(`there is no guard ${guard}`);
  return removal;
}

// A constraint trigger is in both catalogs; it is switched off as the trigger it is.
const REMOVAL = `
  SELECT format('ALTER TABLE %s DISABLE TRIGGER %I', tgrelid::regclass, tgname) AS removal
    FROM pg_trigger WHERE tgname = $1
  UNION ALL
  SELECT format('ALTER TABLE %s DROP CONSTRAINT %I CASCADE', conrelid::regclass, conname)
    FROM pg_constraint WHERE conname = $1 AND contype <> 't'
  UNION ALL
  SELECT format('DROP INDEX %I', indexname) FROM pg_indexes
    WHERE indexname = $1 AND NOT EXISTS (SELECT 1 FROM pg_constraint WHERE conname = $1)`;
