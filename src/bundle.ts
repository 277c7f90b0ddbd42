import { mkdir, readdir, readFile, rename, rm, stat, utimes, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { build, type Plugin } from 'esbuild';

// Puts the service into few files below `dist`, for `npm start` and the image: to find, read and
// translate two thousand takes longer than all else that a start does. Libraries stay as they are.

const root = path.resolve(import.meta.dirname, '..');
const dist = path.join(root, 'dist');

/** What is asked for by its name: the process, its threads, and a file that is read as it is. */
const entryPoints = [
  // The second and third are what the image loads to compile it beforehand.
  ...['src/main.ts', 'src/start.ts', 'src/app.ts', 'src/page-frame/page.css'],
  ...['src/press/start-worker.mjs', 'src/proof/start-verify-worker.mjs'],
  'src/day-plans/start-plan-worker.mjs',
];

/** Whatever a file looks for beside itself, it looks for in `dist` as it does in `src`. */
const keepsPlaces: Plugin = {
  name: 'keeps-places',
  setup({ onLoad }) {
    onLoad({ filter: /\/src\/.*\.ts$/ }, async ({ path: file }) => {
      const text = await readFile(file, 'utf8');
      const place = JSON.stringify(`./${path.relative(path.join(root, 'src'), file)}`);
      const address = `new URL(${place}, import.meta.url).href`;
      return { contents: text.replaceAll('import.meta.url', address), loader: 'ts' };
    });
  },
};

const startedAt = new Date();
const { outputFiles } = await build({
  ...{ absWorkingDir: root, entryPoints, outbase: 'src', outdir: 'dist', write: false },
  ...{ bundle: true, splitting: true, packages: 'external', plugins: [keepsPlaces] },
  ...{ platform: 'node', target: 'node20', format: 'esm', outExtension: { '.js': '.mjs' } },
  ...{ sourcemap: 'linked', sourcesContent: false, loader: { '.css': 'copy' } },
  // Its threads need not learn TypeScript.
  define: { 'process.features.typescript': 'true' },
});

const main = path.join(dist, 'main.mjs');
const mainLast = outputFiles.toSorted(
  (one, other) => Number(one.path === main) - Number(other.path === main),
);
for (const { path: file, contents } of mainLast) {
  await mkdir(path.dirname(file), { recursive: true });
  // Somebody may be starting from here: each file is the old one or the new one, never a half.
  const whole = `${file}.${process.pid}`;
  await writeFile(whole, contents);
  // As old as what it was made of, so that what changed meanwhile is seen to be newer.
  await utimes(whole, startedAt, startedAt);
  await rename(whole, file);
}

// A process that has been running for long may still load a part of an older bundle.
const KEPT_MS = 7 * 24 * 60 * 60_000;
const made = new Set(outputFiles.map(({ path: file }) => file));
for (const name of await readdir(dist, { recursive: true })) {
  const file = path.join(dist, name);
  const { mtimeMs } = await stat(file);
  const isOld = startedAt.getTime() - mtimeMs > KEPT_MS;
  if (isOld && path.extname(file) !== '' && !made.has(file)) await rm(file);
}
