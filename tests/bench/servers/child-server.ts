import { fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';

/** A server in a process of its own, so that it shares no thread with whoever sends. */
export interface ChildServer {
  port: number;
  /** Its answer to a question over the channel between the processes. */
  ask(): Promise<unknown>;
  stop(): Promise<void>;
}

/** Starts a script and waits until it says where it listens. */
export async function startChild(script: URL, args: string[]): Promise<ChildServer> {
  const child = fork(fileURLToPath(script), args, {
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
  });
  const ended = once(child, 'exit');
  const first = await Promise.race([
    once(child, 'message'),
    ended.then(([code]) => {
      throw new Error(`${script.pathname} ended with ${code} before it listened`);
    }),
  ]);
  const [url] = first as [string];
  return {
    port: Number(new URL(url).port),
    ask: async () => {
      const answered = once(child, 'message');
      child.send('how are you');
      const [answer] = await answered;
      return answer;
    },
    stop: async () => {
      child.kill('SIGTERM');
      await ended;
    },
  };
}
