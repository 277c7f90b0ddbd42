import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { PrismaPg } from '@prisma/adapter-pg';
import {
  bindMigrationAwareSqlAdapterFactory,
  DriverAdapterError,
} from '@prisma/driver-adapter-utils';
import * as bindings from '@prisma/schema-engine-wasm/schema_engine_bg';
import pg from 'pg';

/**
 * Opens Prisma's own schema engine as WebAssembly on one database. The command line's engine is a
 * native binary fetched from the net; this one ships inside the npm package, and writes the same
 * `_prisma_migrations` history, so `prisma migrate deploy` elsewhere agrees with it.
 */
export async function openSchemaEngine(databaseUrl: string): Promise<OpenSchemaEngine> {
  await instantiate();
  const pool = new pg.Pool({
    connectionString: databaseUrl,
    options: '-c timezone=UTC',
    max: 1,
  });
  const adapters = bindMigrationAwareSqlAdapterFactory(new WholeScripts(pool));
  const engine = await bindings.SchemaEngine.new(
    { datamodels: undefined },
    ignoreEngineLog,
    adapters,
  );
  return { engine, close: () => pool.end() };
}

/** The engine and the way to let go of its connection. */
export interface OpenSchemaEngine {
  engine: bindings.SchemaEngine;
  close(): Promise<void>;
}

/**
 * Sends a migration to the server as one script. The stock adapter cuts it at every semicolon,
 * which breaks function bodies; whole, the server also runs it as one transaction.
 */
class WholeScripts extends PrismaPg {
  readonly #pool: pg.Pool;

  constructor(pool: pg.Pool) {
    super(pool);
    this.#pool = pool;
  }

  override async connect() {
    const adapter = await super.connect();
    adapter.executeScript = async (script) => {
      await this.#pool.query(script).catch(throwReadable);
    };
    return adapter;
  }
}

// The engine repeats the server's words only when they come in this form.
function throwReadable(error: unknown): never {
  if (!(error instanceof pg.DatabaseError)) throw error;
  const { code = 'XX000', severity = 'ERROR', message, detail, column, hint } = error;
  throw new DriverAdapterError({
    kind: 'postgres',
    code,
    severity,
    message,
    detail,
    column,
    hint,
    originalCode: code,
    originalMessage: message,
  });
}

function ignoreEngineLog(): void {}

let instantiated: Promise<void> | undefined;

function instantiate(): Promise<void> {
  instantiated ??= loadModule();
  return instantiated;
}

async function loadModule(): Promise<void> {
  const entry = createRequire(import.meta.url).resolve(
    '@prisma/schema-engine-wasm/schema_engine_bg',
  );
  const bytes = await readFile(entry.replace(/\.js$/, '.wasm'));
  const { instance } = await webAssembly.instantiate(bytes, {
    './schema_engine_bg.js': bindings,
  });
  bindings.__wbg_set_wasm(instance.exports);
  instance.exports.__wbindgen_start();
}

/** The one call used here; the Node typings leave WebAssembly to the browser's library. */
interface WebAssemblyApi {
  instantiate(
    bytes: Uint8Array,
    imports: Record<string, object>,
  ): Promise<{ instance: { exports: { __wbindgen_start(): void } } }>;
}

const { WebAssembly: webAssembly } = globalThis as unknown as { WebAssembly: WebAssemblyApi };
