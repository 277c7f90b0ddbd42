import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { promisify } from 'node:util';
import type { Undo } from './temporary.ts';

/** The service as a process of its own, started as `npm start` does. */
export interface ServiceProcess {
  url: string;
  metricsUrl: string;
  /** What it logged, line by line. */
  lines: Record<string, unknown>[];
  /** Undefined while it runs. */
  exitCode(): number | string | undefined;
  /** Asks it to end, as an operator does. */
  terminate(): void;
  /** Ends it where it stands. */
  kill(): void;
  /** Its exit code, or the signal that ended it. */
  ended: Promise<number | string>;
}

const root = path.resolve(import.meta.dirname, '../..');

/** What `npm start` has Node run, of the sources as they are now. */
export async function startArguments(): Promise<string[]> {
  bundled ??= promisify(execFile)('npm', ['run', '-s', 'bundle'], { cwd: root });
  await bundled;
  return ['--enable-source-maps', path.join(root, 'dist/main.mjs')];
}

let bundled: Promise<unknown> | undefined;

/** Starts the service and waits until it answers. What is left of it after the test is ended. */
export async function startProcess(
  undo: Undo,
  environment: Record<string, string>,
): Promise<ServiceProcess> {
  const child = spawn(process.execPath, await startArguments(), {
    cwd: root,
    env: {
      PATH: process.env['PATH'] ?? '',
      ...{ PORT: '0', METRICS_PORT: '0', LOG_LEVEL: 'info' },
      // A busy machine must not decide what is refused.
      EVENT_LOOP_DELAY_MAX_MS: '60000',
      ...environment,
    },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let exitCode: number | string | undefined;
  const ended = once(child, 'exit').then(([code, signal]: (number | string | null)[]) => {
    exitCode = code ?? signal ?? 'ended';
    return exitCode;
  });
  undo.push(async () => {
    child.kill('SIGKILL');
    await ended;
  });
  const lines: Record<string, unknown>[] = [];
  const addresses = new Promise<[string, string]>((resolve, reject) => {
    let url = '';
    createInterface({ input: child.stdout }).on('line', (line) => {
      const told = JSON.parse(line) as Record<string, unknown>;
      lines.push(told);
      url ||= /^Evenhand answers at ([^\s;]+)/.exec(String(told['msg']))?.[1] ?? '';
      const [, figures] = /^Its figures are at (\S+)/.exec(String(told['msg'])) ?? [];
      if (figures !== undefined) resolve([url, figures]);
    });
    void ended.then((code) => reject(new Error(`the service ended at its start with ${code}`)));
  });
  const [url, metricsUrl] = await addresses;
  return {
    ...{ url, metricsUrl, lines, ended },
    exitCode: () => exitCode,
    terminate: () => child.kill('SIGTERM'),
    kill: () => child.kill('SIGKILL'),
  };
}

/** One figure of a service, read at its own listener. */
export async function figure(metricsUrl: string, name: string): Promise<number | undefined> {
  const text = await (await fetch(metricsUrl)).text();
  const value = new RegExp(`^${name} (.+)$`, 'm').exec(text)?.[1];
  return value === undefined ? undefined : Number(value);
}
