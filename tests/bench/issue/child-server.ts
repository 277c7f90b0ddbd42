import { fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';

/** A server in a process of its own, so that it shares no thread with whoever sends. */
export interface ChildServer {
  port: number;
  stop(): Promise<void>;
}

/** Starts a script of this folder and waits until it says where it listens. */
export async function startChild(script: string, args: string[]): Promise<ChildServer> {
  const file = fileURLToPath(new URL(script, import.meta.url));
  const child = fork(file, args, { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  const ended = once(child, 'exit');
  const first = await Promise.race([
    once(child, 'message'),
    ended.then(([code]) => {
      throw new Error(`${script} ended with ${code} before it listened`);
    }),
  ]);
  const [url] = first as [string];
  return {
    port: Number(new URL(url).port),
    stop: async () => {
      child.kill('SIGTERM');
      await ended;
    },
  };
}
