import path from 'node:path';
import type { Plugin } from 'vitest/config';
import { type PoolOptions, type TestProject, ThreadsPoolWorker } from 'vitest/node';

type Event = Parameters<ThreadsPoolWorker['on']>;
type Message = Parameters<ThreadsPoolWorker['send']>[0];

const poolName = 'kept';

/** Vitest leaves a listener in its thread with every run. */
const runsMax = 200;

/**
 * Tries one mutant after the other in one thread: to make a thread, and to read the whole core in it,
 * takes many times as long as most of their tests. Files of tests, and what they make, are read anew
 * for each mutant, so that none finds what another left in them.
 */
export function keepWorker(): Plugin {
  return {
    name: 'keep-worker',
    configureVitest({ project, vitest }) {
      let kept: KeptWorker | undefined;
      const createPoolWorker = (options: PoolOptions): KeptWorker => {
        if (kept?.isFit() !== true) {
          void kept?.end();
          kept = new KeptWorker(options);
        }
        return kept;
      };
      Object.assign(project.config, {
        pool: poolName,
        poolRunner: { name: poolName, createPoolWorker },
      });
      vitest.onClose(() => kept?.end());
    },
  };
}

class KeptWorker extends ThreadsPoolWorker {
  override readonly name = poolName;
  readonly #project: TestProject;
  #runs = 0;
  #hasFailed = false;
  #listeners: Event[] = [];

  constructor(options: PoolOptions) {
    super(options);
    this.#project = options.project;
  }

  /** Whether it may try what comes next. */
  isFit(): boolean {
    return !this.#hasFailed && this.#runs < runsMax;
  }

  override async start(): Promise<void> {
    this.#runs += 1;
    if (this.#runs === 1) await super.start();
  }

  /** Of a run, not of the thread. */
  override async stop(): Promise<void> {
    for (const [event, callback] of this.#listeners) super.off(event, callback);
    this.#listeners = [];
  }

  async end(): Promise<void> {
    if (this.#runs > 0) await super.stop();
  }

  override on(...listener: Event): void {
    this.#listeners.push(listener);
    super.on(...listener);
  }

  override send(message: Message): void {
    if (message.type === 'run') message.context.invalidates = this.#filesOfTests();
    if (message.type === 'stop') this.#tellStopped();
    else super.send(message);
  }

  override deserialize(data: unknown): unknown {
    const isError = isRecord(data) && data['type'] === 'testfileFinished' && data['error'];
    this.#hasFailed ||= Boolean(isError);
    return data;
  }

  #tellStopped(): void {
    for (const [event, callback] of this.#listeners) {
      if (event === 'message') callback({ type: 'stopped', __vitest_worker_response__: true });
    }
  }

  #filesOfTests(): string[] {
    const { config, vite } = this.#project;
    const inRoot = [...vite.moduleGraph.fileToModulesMap.keys()].map((file) =>
      path.relative(config.root, file),
    );
    return inRoot
      .filter((file) => /^(seed|tests\/(?!mutants\/))/.test(file))
      .map((file) => path.join(config.root, file));
  }
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}
