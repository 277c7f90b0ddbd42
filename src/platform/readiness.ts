import { migrationNames } from './database/migrate.ts';

/** Why no request should be sent here now, in words that tell no details. */
export type NotReady = string;

/** What is asked before a process calls itself ready. */
export interface ReadinessDeps {
  /** A connection apart from the requests', so that a crowd alone makes nobody unready. */
  sql: { query(text: string): Promise<{ rows: { migration_name: string }[] }> };
  /** Of the sealer, where this process has one: how long ago it last gave a sign of life. */
  sealerQuietMs?: () => number;
  /** Migrations this release was written for; those of its folder unless given. */
  expected?: () => Promise<string[]>;
  /** How long one question may take; whoever asks too long is told that it does not answer. */
  withinMs?: number;
}

/**
 * Asks whether this process can do its work: the database answers in time, has every migration of
 * this release, and the journal's sealer lives. A schema that is further along is fine, because a
 * newer release migrates before the older one ends.
 */
export function createReadiness({
  sql,
  sealerQuietMs = () => 0,
  expected = migrationNames,
  withinMs = 1_000,
}: ReadinessDeps): () => Promise<NotReady | undefined> {
  let asking: Promise<NotReady | undefined> | undefined;
  const ask = async () => {
    const [needed, { rows }] = await Promise.all([expected(), sql.query(FINISHED)]);
    const finished = new Set(rows.map((row) => row.migration_name));
    if (!needed.every((name) => finished.has(name))) return 'The database has another schema.';
    if (sealerQuietMs() > SEALER_QUIET_MS_MAX) return 'The journal is not being sealed.';
    return undefined;
  };
  return () => {
    // Whoever asks while one question is out shares its answer: a black hole is asked once.
    asking ??= ask()
      .catch(() => NO_ANSWER)
      .finally(() => {
        asking = undefined;
      });
    return within(asking, withinMs);
  };
}

const NO_ANSWER = 'The database cannot be reached.';

/** Several times the longest that one piece of its work takes before the database ends it. */
const SEALER_QUIET_MS_MAX = 60_000;

const FINISHED =
  'SELECT migration_name FROM _prisma_migrations WHERE finished_at IS NOT NULL AND rolled_back_at IS NULL';

function within(answer: Promise<NotReady | undefined>, ms: number): Promise<NotReady | undefined> {
  let timer: NodeJS.Timeout | undefined;
  const tooLate = new Promise<NotReady>((resolve) => {
    timer = setTimeout(() => resolve(NO_ANSWER), ms);
  });
  return Promise.race([answer, tooLate]).finally(() => clearTimeout(timer));
}
