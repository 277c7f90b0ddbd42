import type { PaperDesk } from '../papers/index.ts';
import type { Clock } from '../platform/clock.ts';
import type { Database } from '../platform/database/database.ts';
import type { Ids } from '../platform/ids.ts';

/** What the pages are given from outside. */
export interface PageDeps {
  db: Database;
  clock: Clock;
  ids: Ids;
  /** What makes the files of papers. */
  papers: PaperDesk;
  /** Start of links to this service; empty where it is told by each request. */
  typeBase: string;
}
