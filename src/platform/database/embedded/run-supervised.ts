import { spawn } from 'node:child_process';
import type { Readable } from 'node:stream';
import type { Account } from './choose-account.ts';

/** A program that cannot outlive this process. */
export type Supervised = {
  /** Process id of the program itself. */
  pid: number;
  /** Process id of its supervisor, which leads their process group. */
  supervisorPid: number;
  /** Settles with the exit status once the program has ended. */
  ended: Promise<number>;
  /** What the program prints, when `output` is 'pipe'. */
  output: Readable | null;
  /** Asks the program to end, exactly as the death of this process would. */
  release: () => void;
  /** Lets this process end although the program runs. */
  unref: () => void;
};

type Options = {
  account: Account | undefined;
  command: readonly string[];
  output: number | 'pipe';
};

/**
 * Runs a program under a tiny shell whose standard input is a pipe from this process. However this
 * process ends, SIGKILL included, the kernel closes the pipe; the shell then interrupts the
 * program, which Postgres takes as a fast shutdown. The pair has a session of its own, so Ctrl-C
 * in the terminal reaches only this process, which can then close its connections first.
 */
export async function runSupervised({ account, command, output }: Options): Promise<Supervised> {
  const child = spawn('/bin/sh', ['-c', SUPERVISOR, 'evenhand-supervisor', ...command], {
    cwd: '/',
    detached: true,
    // No PG* variable of the caller may steer the server, and its messages stay in English.
    env: { PATH: '/usr/bin:/bin:/usr/sbin:/sbin', LC_ALL: 'C', TZ: 'UTC' },
    stdio: ['pipe', 'pipe', output],
    // Spawning takes ids as signed 32-bit numbers.
    ...(account && { uid: account.uid | 0, gid: account.gid | 0 }),
  });
  const ended = new Promise<number>((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', (status) => resolve(status ?? KILLED_STATUS));
  });
  const { stdin, stdout } = child;
  if (child.pid === undefined || stdin === null || stdout === null) {
    await ended;
    throw new Error('The shell that supervises Postgres did not start.');
  }
  const pid = await readPid(stdout);
  return {
    pid,
    supervisorPid: child.pid,
    ended,
    output: child.stderr,
    release: () => stdin.destroy(),
    unref: () => child.unref(),
  };
}

// A shell starts its background programs with SIGINT ignored, so an interrupt that arrives before
// Postgres has installed its own handlers is lost: hence the loop. The final `kill 0` clears the
// process group of what the watcher leaves, and the shell itself ignores it.
const SUPERVISOR = `
exec 3<&0
"$@" </dev/null >&2 3<&- &
program=$!
trap 'kill -INT "$program" 2>/dev/null' HUP INT TERM
(
  read -r _ <&3
  tries=0 signal=INT
  while kill -"$signal" "$program" 2>/dev/null; do
    sleep 1
    tries=$((tries + 1))
    if [ "$tries" -ge 60 ]; then signal=QUIT; fi
    if [ "$tries" -ge 70 ]; then signal=KILL; fi
  done
) >/dev/null 2>&1 &
exec 3<&- </dev/null
echo "$program"
while :; do
  wait "$program"
  status=$?
  kill -0 "$program" 2>/dev/null || break
done
trap '' TERM
kill -TERM 0 2>/dev/null
exit "$status"
`;

const KILLED_STATUS = 137;

async function readPid(stdout: Readable): Promise<number> {
  let text = '';
  for await (const chunk of stdout) {
    text += String(chunk);
    if (text.endsWith('\n')) break;
  }
  return Number(text);
}
