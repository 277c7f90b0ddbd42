import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import {
  type AuditRulesetVersion,
  auditRulesets,
  auditRulesetVersions,
  type JobFacts,
  judgeJob,
} from '../../src/auditing/index.ts';
import { asJson, jobFromJson } from './job-as-json.ts';

/**
 * Adds one job with its judgement to the corpus of a ruleset version. It never replaces one: a
 * released version that judges differently is a defect of the rules, not of the corpus.
 * @returns the file
 */
export function recordGoldenJob(version: AuditRulesetVersion, name: string, job: JobFacts): string {
  const folder = folderOf(version);
  const file = `${folder}/${name}.json`;
  if (existsSync(file)) throw new Error(`${file} is recorded already; choose another name.`);
  mkdirSync(folder, { recursive: true });
  writeJudged(file, version, job);
  return file;
}

/**
 * Judges the recorded jobs of a version once more, or those that are named, and writes down what it
 * says now. Only while a version has judged nothing real, and only together with the change that it
 * follows from:
 *
 *     npx tsx tests/auditing/record-golden-job.ts auditing-1 --again
 *     npx tsx tests/auditing/record-golden-job.ts auditing-1 --again bill-split bill-fair
 */
export function recordAgain(version: AuditRulesetVersion, names: readonly string[] = []): void {
  const folder = folderOf(version);
  const files = names.length > 0 ? names.map((name) => `${name}.json`) : readdirSync(folder);
  for (const each of files) {
    const file = `${folder}/${each}`;
    writeJudged(file, version, jobFromJson(readFileSync(file, 'utf8')).job);
  }
}

function folderOf(version: AuditRulesetVersion): string {
  return fileURLToPath(new URL(`./golden/${version}`, import.meta.url));
}

function writeJudged(file: string, version: AuditRulesetVersion, job: JobFacts): void {
  const { openCents: _, ...judgement } = judgeJob(job, auditRulesets[version]);
  writeFileSync(file, `${JSON.stringify({ job: asJson(job), judgement }, null, 1)}\n`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [asked, word, ...names] = process.argv.slice(2);
  const version = auditRulesetVersions.find((known) => known === asked);
  if (version === undefined || word !== '--again') {
    throw new Error(`Usage: <${auditRulesetVersions.join('|')}> --again [name...]`);
  }
  recordAgain(version, names);
}
