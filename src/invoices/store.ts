import { type Sql, sqlOf, type Tx } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';

/** What this room reads from: one transaction, or the database as it is. */
export interface Store {
  prisma: Tx;
  sql: Sql;
}

/** The transaction of an act. */
export function storeOf({ tx }: Pick<ActContext, 'tx'>): Store {
  return { prisma: tx, sql: sqlOf(tx) };
}
