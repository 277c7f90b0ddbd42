import { mkdirSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import type { MutantResult } from '@stryker-mutator/api/core';
import { Stryker } from '@stryker-mutator/core';
import { shareInterval } from '../../src/auditing/statistics/share-interval.ts';
import { equalMutants } from './equal-mutants.ts';
import { type MutatedRoom, mutatedRooms } from './mutated-rooms.ts';
import { useSample } from './sample.ts';

/*
 * npm run mutants [-- names of rooms and parts of the names of files --sample 300 --seed 1]
 *
 * Changes every operator, condition, block and number of the pure core, one at a time, and runs the
 * tests of its room that reach it; with `--sample` so many of each room, drawn by lot from the seed.
 * Prints each change that no test noticed, the score of each room, of a sample with the range in which
 * that of all lies nineteen times of twenty, a table by folder, and as its last line the figures as JSON.
 *
 * What acts only while a module is read is not tried: it would take every test of the room. What acts
 * then and later is tried by the tests that reach it later. Texts and whole objects are left as they
 * are: most of those changes would not compile, which is not tried here, and words are held by golden
 * cases. Takes what the machine has left over.
 */

const scratch = '.data/mutants';
const sampler = './tests/mutants/sample-checker.ts';

/** What became of the mutants of one folder. */
type Tally = {
  mutants: number;
  killed: number;
  timedOut: number;
  survived: number;
  notCovered: number;
  /** Survived because nothing can differ. */
  equal: number;
};
type Fate = Exclude<keyof Tally, 'mutants'>;

/** Not tried: outside the sample; at work only while modules are read. */
const untried: readonly MutantResult['status'][] = ['CompileError', 'Ignored'];

const { values: options, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    sample: { type: 'string' },
    seed: { type: 'string', default: '1' },
  },
});
os.setPriority(os.constants.priority.PRIORITY_LOW);
await main(positionals);

async function main(words: readonly string[]): Promise<void> {
  if (options.sample !== undefined) useSample({ size: Number(options.sample), seed: options.seed });
  const named = mutatedRooms.filter(({ name }) => words.includes(name));
  const partsOfNames = words.filter((word) => mutatedRooms.every(({ name }) => name !== word));
  const tallies = new Map<string, Tally>();
  const minutes: Record<string, number> = {};
  for (const room of named.length > 0 ? named : mutatedRooms) {
    const began = performance.now();
    const files = sourcesOf(room).filter(
      (file) => partsOfNames.length === 0 || partsOfNames.some((part) => file.includes(part)),
    );
    if (files.length === 0) continue;
    const mutants = await mutantsOf(room, files);
    const ofRoom = new Map<string, Tally>();
    for (const mutant of mutants) if (!untried.includes(mutant.status)) count(ofRoom, mutant);
    for (const [folder, tally] of ofRoom) tallies.set(folder, tally);
    tellScore(room, [...ofRoom.values()]);
    tellStatic(room, mutants);
    minutes[room.name] = Number(((performance.now() - began) / 60_000).toFixed(1));
  }
  console.table(
    Object.fromEntries(
      [...tallies].map(([folder, tally]) => [folder, { ...tally, score: scoreOf(tally) }]),
    ),
  );
  console.log(JSON.stringify({ folders: Object.fromEntries(tallies), minutes }));
}

function tellStatic({ name }: MutatedRoom, mutants: readonly MutantResult[]): void {
  const left = mutants.filter((mutant) => mutant.static && mutant.status === 'Ignored').length;
  console.log(`${name}: ${left} act only while a module is read and were not tried.`);
}

function tellScore({ name }: MutatedRoom, tallies: readonly Tally[]): void {
  const sum = (figure: keyof Tally) => tallies.reduce((total, tally) => total + tally[figure], 0);
  const noticed = sum('killed') + sum('timedOut');
  const noticeable = sum('mutants') - sum('equal');
  if (noticeable === 0) return;
  const { low, high } = shareInterval(noticed, noticeable);
  const range = options.sample === undefined ? '' : `, of all ${percent(low)} to ${percent(high)}`;
  const score = percent(noticed / noticeable);
  console.log(`${name}: ${noticed} of ${noticeable} noticed, ${score}${range}.`);
}

function sourcesOf({ places, data }: MutatedRoom): string[] {
  return places
    .flatMap((place) =>
      statSync(place).isFile()
        ? [place]
        : readdirSync(place, { recursive: true, encoding: 'utf8' }).map((file) =>
            path.posix.join(place, file),
          ),
    )
    .filter((file) => file.endsWith('.ts') && !data.includes(file));
}

async function mutantsOf(room: MutatedRoom, files: string[]): Promise<MutantResult[]> {
  process.env['MUTATED_ROOM'] = room.name;
  mkdirSync(scratch, { recursive: true });
  try {
    return await new Stryker({
      plugins: [
        '@stryker-mutator/vitest-runner',
        ...(options.sample === undefined ? [] : [sampler]),
      ],
      checkers: options.sample === undefined ? [] : ['sample'],
      checkerNodeArgs: ['--import', 'tsx'],
      testRunnerNodeArgs: ['--import', 'tsx'],
      testRunner: 'vitest',
      vitest: { configFile: 'tests/mutants/vitest.config.ts', related: false },
      coverageAnalysis: 'perTest',
      ignoreStatic: true,
      mutate: files,
      mutator: { plugins: null, excludedMutations: ['StringLiteral', 'ObjectLiteral'] },
      concurrency: 2,
      dryRunTimeoutMinutes: 30,
      // Beside other work a sound test takes several times as long as it did the first time.
      timeoutMS: 20_000,
      reporters: ['progress-append-only', 'json'],
      jsonReporter: { fileName: `${scratch}/${room.name}.json` },
      tempDirName: `${scratch}/copies`,
      ignorePatterns: ['.data'],
      cleanTempDir: 'always',
    }).runMutationTest();
  } finally {
    rmSync(`${scratch}/copies`, { recursive: true, force: true });
  }
}

function count(tallies: Map<string, Tally>, mutant: MutantResult): void {
  const file = path.relative('src', mutant.fileName);
  const folder = path.dirname(file);
  const tally = tallies.get(folder) ?? {
    mutants: 0,
    killed: 0,
    timedOut: 0,
    survived: 0,
    notCovered: 0,
    equal: 0,
  };
  tallies.set(folder, tally);
  const text = textOf(mutant);
  const fate = fateOf(mutant, file, text);
  tally.mutants += 1;
  tally[fate] += 1;
  if (fate === 'survived' || fate === 'notCovered') {
    const { line } = mutant.location.start;
    console.log(`${fate}  ${file}:${line}  ${oneLine(text)}  ->  ${oneLine(mutant.replacement)}`);
  }
}

/** A mutant that cannot be read, or throws where nothing catches it, is as good as killed. */
function fateOf(mutant: MutantResult, file: string, text: string): Fate {
  const { status, replacement, fileName, location } = mutant;
  if (status === 'Timeout') return 'timedOut';
  if (status !== 'Survived' && status !== 'NoCoverage') return 'killed';
  const line = readFileSync(fileName, 'utf8').split('\n')[location.start.line - 1]?.trim();
  const isEqual = equalMutants.some(
    (each) =>
      each.file === file &&
      each.line === line &&
      each.text === text &&
      each.becomes === replacement,
  );
  if (isEqual) return 'equal';
  return status === 'Survived' ? 'survived' : 'notCovered';
}

/** What stood where the mutant was made; its lines and columns begin at one. */
function textOf({ fileName, location: { start, end } }: MutantResult): string {
  const lines = readFileSync(fileName, 'utf8')
    .split('\n')
    .slice(start.line - 1, end.line);
  const last = lines.length - 1;
  lines[last] = lines[last]?.slice(0, end.column - 1) ?? '';
  lines[0] = lines[0]?.slice(start.column - 1) ?? '';
  return lines.join('\n');
}

function oneLine(text: string): string {
  const line = text.replace(/\s+/g, ' ');
  return line.length > 90 ? `${line.slice(0, 89)}…` : line;
}

/** Percent of those that can be noticed at all. */
function scoreOf({ mutants, killed, timedOut, equal }: Tally): string {
  return percent((killed + timedOut) / Math.max(1, mutants - equal));
}

function percent(share: number): string {
  return `${(100 * share).toFixed(1)} %`;
}
