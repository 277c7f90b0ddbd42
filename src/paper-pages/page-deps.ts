import type { Clock } from '../platform/clock.ts';
import type { Database } from '../platform/database/database.ts';
import type { Ids } from '../platform/ids.ts';

/** What the pages are given from outside. */
export interface PageDeps {
  db: Database;
  clock: Clock;
  ids: Ids;
}
