import type { Clock } from '../platform/clock.ts';
import type { Database } from '../platform/database/database.ts';
import type { Ids } from '../platform/ids.ts';
import type { FactorKey } from '../sign-in/index.ts';

/** What the pages are given from outside. */
export interface PageDeps {
  db: Database;
  clock: Clock;
  ids: Ids;
  /** Start of links to this service; empty where it is told by each request. */
  typeBase: string;
  /** What the secrets of second factors are sealed with. */
  factorKey: FactorKey;
}
