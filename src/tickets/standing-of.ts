import type { Sql } from '../platform/database/database.ts';
import { isCallback } from './last-closing.ts';

/** What decides what may be asked of a ticket, beside its state. */
export interface Standing {
  /** It was closed and is open again. */
  isCallback: boolean;
  /** Whoever drops it would lose work that was agreed to or done, or a trip: see `whyOnlyClosed`. */
  canOnlyBeClosed: boolean;
}

/**
 * How some tickets stand, by one statement however many they are. What can only be closed is decided
 * by the rule that guards the table, so that nobody is offered what the database refuses.
 * @returns by the identifier of the ticket
 */
export async function standingOf(
  sql: Sql,
  ticketIds: readonly string[],
): Promise<ReadonlyMap<string, Standing>> {
  if (ticketIds.length === 0) return new Map();
  const { rows } = await sql.query<Standing & { id: string }>(STANDING, [ticketIds]);
  return new Map(rows.map(({ id, ...standing }) => [id, standing]));
}

const STANDING = `
  SELECT id, ticket_only_closed(id) AS "canOnlyBeClosed", ${isCallback('asked.id')} AS "isCallback"
  FROM unnest($1::uuid[]) AS asked (id)`;
