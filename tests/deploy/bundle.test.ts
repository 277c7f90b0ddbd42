import { execFile } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { promisify } from 'node:util';
import { Worker } from 'node:worker_threads';
import { beforeAll, describe, expect, it, onTestFinished } from 'vitest';
import type { PaperSheet } from '../../src/documents/index.ts';
import { createPress } from '../../src/press/index.ts';
import { drawToSeal } from '../../src/proof/index.ts';
import { pluggedDrain } from '../documents/sample-papers.ts';
import { startArguments } from '../running/process.ts';

const root = path.resolve(import.meta.dirname, '../..');
const inBundle = (name: string) => path.join(root, 'dist', name);
const thread = (name: string) => new URL(`../../dist/${name}`, import.meta.url);

const sources = readdirSync(path.join(root, 'src'), { encoding: 'utf8', recursive: true })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => path.join('src', name));

beforeAll(startArguments);

describe('the bundle that npm start and the image run', () => {
  it('has at its place whatever a file looks for beside itself', () => {
    const wanted = sources.flatMap((file) => {
      const text = readFileSync(path.join(root, file), 'utf8');
      const found = text.matchAll(/new URL\('([^']+)', import\.meta\.url\)/g);
      return [...found].map(([, beside = '']) => path.join(path.dirname(file), beside));
    });
    expect(wanted.length).toBeGreaterThan(4);
    for (const name of wanted) {
      const place = name.startsWith('src')
        ? inBundle(path.relative('src', name))
        : path.join(root, name);
      expect(existsSync(place), name).toBe(true);
    }
  });

  it('does not load at its start what draws papers or sends mail', () => {
    const libraries = loadedWith(['main.mjs', 'app.mjs']);
    expect(libraries).toEqual(expect.arrayContaining(['fastify', 'pg', 'zod']));
    for (const name of ['pdfkit', 'fontkit', 'linebreak', 'harfbuzzjs', 'pdfjs-dist']) {
      expect(libraries).not.toContain(name);
    }
    expect(libraries.filter((name) => name.startsWith('nodemailer'))).toEqual([]);
  });

  it('draws on its thread the very bytes that the sources draw', async () => {
    const press = createPress({
      workers: 1,
      waitingMax: 1,
      script: thread('press/start-worker.mjs'),
    });
    onTestFinished(() => press.close());
    const sheet: PaperSheet = { paper: { kind: 'quote', paper: pluggedDrain }, attachments: [] };
    expect(await press.draw(sheet)).toEqual(await drawToSeal(sheet));
  });

  it('plans on its thread', async () => {
    const worker = new Worker(thread('day-plans/start-plan-worker.mjs'));
    onTestFinished(async () => void (await worker.terminate()));
    worker.postMessage({ id: 7, order: { crews: [], stops: [], road: {}, effort: { rounds: 1 } } });
    expect(await once(worker, 'message')).toMatchObject([{ id: 7 }]);
  });

  it('checks files on its thread', async () => {
    const workerData = { bytes: new TextEncoder().encode('%PDF-1.7 nothing'), keys: { keys: [] } };
    const worker = new Worker(thread('proof/start-verify-worker.mjs'), { workerData });
    expect(await once(worker, 'message')).toMatchObject([{ verdict: 'unreadable' }]);
  });

  it('names in an error the line of the source', async () => {
    const script = `import(${JSON.stringify(inBundle('start.mjs'))}).then(({ start }) => start())`;
    const failed = promisify(execFile)(process.execPath, ['--enable-source-maps', '-e', script]);
    await expect(failed).rejects.toMatchObject({
      stderr: expect.stringMatching(/at start \(\S*\/src\/start\.ts:\d+:\d+\)/),
    });
  });
});

/** The libraries that these parts bring along before anything is asked of them. */
function loadedWith(parts: string[]): string[] {
  const libraries = new Set<string>();
  const seen = new Set(parts);
  // A set goes on with what is added to it meanwhile.
  for (const part of seen) {
    const text = readFileSync(inBundle(part), 'utf8');
    for (const [, name = ''] of text.matchAll(
      /^(?:import|export|\}) ?.*?(?:from )?"([^"]+)";$/gm,
    )) {
      if (name.startsWith('./')) seen.add(path.normalize(name));
      else libraries.add(name);
    }
  }
  return [...libraries];
}
