import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
let dataDir = '';
beforeAll(async () => {
  dataDir = await mkdtemp(path.join(tmpdir(), 'evenhand-demo-'));
});
afterAll(() => rm(dataDir, { recursive: true, force: true }));

describe('the demo', () => {
  it('killed in the middle, it works again on the same data, and again after that', async () => {
    const killed = demo();
    await killed.says('Call 4');
    killed.process.kill('SIGKILL');
    await killed.ended;
    for (const attempt of ['after the kill', 'once more']) {
      const again = demo();
      expect(await again.ended, `${attempt}: ${again.output()}`).toBe(0);
      expect(again.output()).toContain('Done in');
    }
  }, 300_000);

  it('a second one on the same data says who holds it and what to do', async () => {
    const first = demo();
    await first.says('Call 1');
    const second = demo();
    expect(await second.ended).toBe(1);
    expect(second.output()).toMatch(/in use by process \d+.*DATABASE_URL.*EVENHAND_DATA_DIR/s);
    expect(await first.ended).toBe(0);
  }, 300_000);
});

interface RunningDemo {
  process: ChildProcess;
  ended: Promise<number | null>;
  output(): string;
  says(text: string): Promise<void>;
}

function demo(): RunningDemo {
  const { DATABASE_URL: _url, DATABASE_OWNER_URL: _owner, ...env } = process.env;
  const child = spawn(process.execPath, ['--import', 'tsx', 'seed/demo/main.ts', '--once'], {
    cwd: root,
    env: { ...env, PORT: '0', EVENHAND_DATA_DIR: dataDir },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  const waiting: { text: string; resolve: () => void }[] = [];
  const hear = (chunk: Buffer) => {
    output += chunk.toString();
    for (const { text, resolve } of waiting) if (output.includes(text)) resolve();
  };
  child.stdout.on('data', hear);
  child.stderr.on('data', hear);
  const ended = new Promise<number | null>((resolve) => child.once('close', resolve));
  return {
    process: child,
    ended,
    output: () => output,
    says: (text) =>
      Promise.race([
        new Promise<void>((resolve) => {
          waiting.push({ text, resolve });
          hear(Buffer.alloc(0));
        }),
        ended.then(() => {
          if (!output.includes(text)) throw new Error(`it never said "${text}": ${output}`);
        }),
      ]),
  };
}
