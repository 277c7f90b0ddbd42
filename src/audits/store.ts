import { type Sql, sqlOf, type Tx } from '../platform/database/database.ts';

/** What this room reads from: the two ways into one transaction. Its statements are few and fixed. */
export interface Store {
  prisma: Tx;
  sql: Sql;
}

export function storeOf(tx: Tx): Store {
  return { prisma: tx, sql: sqlOf(tx) };
}
