import { AsyncLocalStorage } from 'node:async_hooks';
import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { sha256 } from '../sha256.ts';
import { type Prisma, PrismaClient } from './generated/client.ts';

/** A transaction: the typed client, bound to one connection. */
export type Tx = Prisma.TransactionClient;

/** One connection inside a transaction, for statements that must be plain SQL or fast. */
export interface Sql {
  query<R extends pg.QueryResultRow>(text: string, values?: unknown[]): Promise<pg.QueryResult<R>>;
}

/** Whichever connection of a pool is free. */
export interface PooledSql extends Sql {
  /** As `query`, planned for these very values: where a plan for any values would read a table. */
  queryAnew: Sql['query'];
}

/** The database as rooms see it: the typed client and the pool it draws from. */
export interface Database {
  prisma: PrismaClient;
  pool: pg.Pool;
  /** Runs `work` in one transaction; see `inTx` for retries. */
  transact<T>(work: (tx: Tx) => Promise<T>, isolation: Isolation): Promise<T>;
  close(): Promise<void>;
}

export type Isolation = 'ReadCommitted' | 'Serializable';

export interface DatabaseOptions {
  url: string;
  poolMax: number;
  /** The database role the application takes; privileges are granted to it, not to the login. */
  role?: string;
  /**
   * After how long without an answer to a statement its connection is given up: a network that
   * swallows what is sent tells nobody. No limit unless given.
   */
  answerMsMax?: number;
  onPoolError?: (error: Error) => void;
}

/**
 * Opens a pool and the typed client on it. Settings in the connection string hold where they do not
 * speak against ours.
 * @throws Error when the server cannot be reached; when its sessions do not run in UTC: the driver
 *   sends instants without an offset, so any other zone would store them shifted without a word;
 *   or when they do not take the role, as behind a connection pooler that drops what it is told
 */
export async function openDatabase(options: DatabaseOptions): Promise<Database> {
  const database = openUnasked(options);
  try {
    await requireSession(database.pool, options.role);
  } catch (error) {
    await database.close();
    throw error;
  }
  return database;
}

/** As `openDatabase`, of a server that may be away by now: nobody asks how its sessions are. */
export function openUnasked(options: DatabaseOptions): Database {
  const pool = new RecordingPool(poolConfig(options));
  let closing = false;
  pool.on('error', (error) => {
    if (!closing) options.onPoolError?.(error);
  });
  // Between two statements of a transaction nobody listens, and an error that nobody hears ends the
  // process. The next statement on that connection fails by itself, and is answered for.
  pool.on('connect', (client) => client.on('error', () => undefined));
  const adapter = new PrismaPg(pool, { statementNameGenerator: ({ sql }) => nameOf(sql) });
  const prisma = new PrismaClient({ adapter });
  return {
    prisma,
    pool,
    transact: (work, isolation) =>
      inTransaction(prisma, work, {
        // What every session has anyway need not be said.
        ...(isolation !== 'ReadCommitted' && { isolationLevel: isolation }),
        timeout: 10_000,
      }),
    close: async () => {
      closing = true;
      await prisma.$disconnect();
      await pool.end();
    },
  };
}

/** A long read is given so long; each of its statements as long as any other. */
const SNAPSHOT_MS = 5 * 60_000;

/**
 * Reads with many statements what one state of the database holds, whatever is changed meanwhile.
 * Nothing can be written in it, and nothing has to be tried again.
 */
export function inSnapshot<T>(
  prisma: Pick<PrismaClient, '$transaction'>,
  work: (tx: Tx) => Promise<T>,
): Promise<T> {
  const reading = async (tx: Tx) => {
    await sqlOf(tx).query('SET TRANSACTION READ ONLY');
    // What is worked out between two statements may take a while on a machine with much to do.
    await sqlOf(tx).query(`SET LOCAL idle_in_transaction_session_timeout = ${SNAPSHOT_MS}`);
    return work(tx);
  };
  return inTransaction(prisma, reading, {
    isolationLevel: 'RepeatableRead',
    timeout: SNAPSHOT_MS,
  });
}

/** A transaction in which plain SQL goes where the typed client does. */
function inTransaction<T>(
  prisma: Pick<PrismaClient, '$transaction'>,
  work: (tx: Tx) => Promise<T>,
  options: { isolationLevel?: Isolation | 'RepeatableRead'; timeout: number },
): Promise<T> {
  return connectionOf.run({}, () =>
    prisma.$transaction((tx) => bindSql(tx, work), { ...options, maxWait: 3_000 }),
  );
}

/**
 * The plain connection of a transaction. Statements sent here and through the typed client share
 * one transaction, in the order they are awaited. Each connection reads and plans a text once.
 */
export function sqlOf(tx: Tx): Sql {
  const client = clientOf(tx);
  return { query: (text, values = []) => client.query(named(text, values)) };
}

/** As `sqlOf`, on whichever connection of a pool is free. */
export function sqlOn(pool: pg.Pool): PooledSql {
  return {
    query: (text, values = []) => pool.query(named(text, values)),
    queryAnew: (text, values = []) => pool.query({ text, values }),
  };
}

function named(text: string, values: unknown[]): pg.QueryConfig {
  const name = nameOf(text);
  return name === '' ? { text, values } : { name, text, values };
}

function clientOf(tx: Tx): pg.PoolClient {
  const client = clients.get(tx);
  if (client === undefined) throw new Error('sqlOf needs a transaction opened by this database');
  return client;
}

/**
 * How much alike two words are for `<%`. One letter wrong in a name of six, such as "garsia", leaves
 * 3 of 7 trigrams: 0.43. At the server's own limit of 0.6 hardly a slip is found in a name shorter
 * than ten.
 */
export const likenessSetting = 'pg_trgm.word_similarity_threshold=0.42';

/** What every connection of the application is told, whoever opens it. */
export function poolConfig({ url, poolMax, role, answerMsMax }: DatabaseOptions): pg.PoolConfig {
  // Left in the connection string, its options would replace these, the role with them.
  const target = new URL(url);
  const given = target.searchParams.get('options');
  target.searchParams.delete('options');
  const settings = [
    ...(given === null ? [] : [given]),
    '-c timezone=UTC',
    '-c default_transaction_isolation=read\\ committed',
    '-c statement_timeout=5000',
    '-c lock_timeout=2000',
    '-c idle_in_transaction_session_timeout=10000',
    `-c ${likenessSetting}`,
    ...(role === undefined ? [] : [`-c role=${role}`]),
  ];
  return {
    connectionString: target.toString(),
    max: poolMax,
    connectionTimeoutMillis: 3_000,
    idleTimeoutMillis: 30_000,
    ...(answerMsMax !== undefined && { query_timeout: answerMsMax }),
    options: settings.join(' '),
  };
}

async function requireSession(pool: pg.Pool, role: string | undefined): Promise<void> {
  const answer = await pool.query<{ zone: string; role: string }>(
    `SELECT current_setting('TimeZone') AS zone, current_user AS role`,
  );
  const session = answer.rows[0];
  if (session?.zone !== 'UTC') {
    throw new Error(`The database session runs in ${session?.zone}, not in UTC.`);
  }
  if (role !== undefined && session.role !== role) {
    throw new Error(`The database session acts as ${session.role}, not as ${role}.`);
  }
}

/**
 * Names prepared statements by a hash of their text, never by a counter: a name that came to mean
 * another text would run the old one. After that many shapes the rest stay unnamed (the empty name):
 * of texts put together from values there is no end.
 */
function nameOf(text: string): string {
  const known = names.get(text);
  if (known !== undefined || names.size >= NAMES_MAX) return known ?? '';
  const name = `p_${sha256(text).slice(0, 24)}`;
  names.set(text, name);
  return name;
}

const NAMES_MAX = 1_000;
const names = new Map<string, string>();

/**
 * A connection that takes one statement at a time. The typed client sends the parts of one request
 * side by side, which the driver still queues but will refuse in its next major version. Where a
 * statement was not answered in time, no other one will be: it is closed.
 */
class OneAtATime extends pg.Client {
  #last: Promise<unknown> = Promise.resolve();
  #waiting = 0;

  // biome-ignore lint/suspicious/noExplicitAny: the driver's overloads cannot be told apart here.
  override query(...statement: any[]): any {
    const send = super.query.bind(this) as (...statement: unknown[]) => unknown;
    const takesCallback = statement.some((argument) => typeof argument === 'function');
    if (takesCallback || typeof statement[0]?.submit === 'function') return send(...statement);
    const before = this.#waiting === 0 ? undefined : this.#last;
    this.#waiting += 1;
    const answer =
      before === undefined ? send(...statement) : before.then(() => send(...statement));
    const done = () => {
      this.#waiting -= 1;
    };
    this.#last = (answer as Promise<unknown>).then(done, (error: unknown) => {
      done();
      if (isUnanswered(error)) void this.end().catch(() => undefined);
    });
    return answer;
  }
}

/** The driver's words where it waited too long; it has neither code nor class for it. */
function isUnanswered(error: unknown): boolean {
  return error instanceof Error && error.message === 'Query read timeout';
}

// The typed client takes its connection from the pool inside `$transaction` and keeps it to
// itself. Noting which one it took lets plain SQL join the same transaction.
const connectionOf = new AsyncLocalStorage<{ client?: pg.PoolClient }>();
const clients = new WeakMap<object, pg.PoolClient>();

class RecordingPool extends pg.Pool {
  constructor(config: pg.PoolConfig) {
    super({ ...config, Client: OneAtATime });
  }

  override connect(): Promise<pg.PoolClient>;
  override connect(callback: ConnectCallback): void;
  override connect(callback?: ConnectCallback): Promise<pg.PoolClient> | undefined {
    if (callback !== undefined) {
      super.connect(callback);
      return undefined;
    }
    const slot = connectionOf.getStore();
    return super.connect().then((client) => {
      if (slot !== undefined) slot.client ??= client;
      return client;
    });
  }
}

type ConnectCallback = (
  error: Error | undefined,
  client: pg.PoolClient | undefined,
  done: (release?: unknown) => void,
) => void;

async function bindSql<T>(tx: Tx, work: (tx: Tx) => Promise<T>): Promise<T> {
  const client = connectionOf.getStore()?.client;
  if (client === undefined) throw new Error('the transaction took no connection from the pool');
  clients.set(tx, client);
  try {
    return await work(tx);
  } finally {
    // The connection goes back to the pool, and soon works for somebody else.
    clients.delete(tx);
  }
}
