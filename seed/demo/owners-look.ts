import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { dollarsText } from '../../src/pricing/index.ts';
import { type ApiClient, Refused } from './api-client.ts';

/** Where the owner looks, who tells of it, and where the report is kept. */
interface Look {
  owner: ApiClient;
  say: (line: string) => void;
  papersFolder: string;
}

/** The owner loads last year's bills, reads what they hide, and prints the audit of today's work. */
export async function ownersLook({ owner, say, papersFolder }: Look): Promise<void> {
  await lookAtLastYear(owner, say);
  const period = `?from=${dayFromToday(-1)}&to=${dayFromToday(1)}`;
  const { jobs, rules } = await reportOfAll(owner, `/v1/audit/report${period}`);
  const open = rules.reduce((sum, rule) => sum + rule.open, 0);
  say(`${jobs} jobs of these days judged by ${rules.length} rules: ${open} flags.`);
  const { name, bytes } = await owner.file(`/v1/audit/report/pdf${period}`);
  await writeFile(path.join(papersFolder, name), bytes);
  say(`The report to print: ${name}`);
}

/** A day of the company may have begun before or after that of UTC. */
function dayFromToday(days: number): string {
  return new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);
}

async function lookAtLastYear(owner: ApiClient, say: (line: string) => void): Promise<void> {
  const importId = await importOnce(owner);
  const { body } = await owner.get(`/v1/bill-imports/${importId}/bills`);
  for (const bill of body.items) {
    const { fair, flags, overCents } = bill.judgement;
    const beside = fair === null ? 'no fair price known' : `${fairText(fair)} fair`;
    say(`${dollarsText(bill.chargedCents).padStart(10)} charged, ${beside}: ${bill.done}`);
    for (const sentence of flags.flatMap((flag: { sentences: string[] }) => flag.sentences)) {
      say(`             ${sentence}`);
    }
    if (overCents > 0) say(`             Too much by ${dollarsText(overCents)}.`);
  }
}

/** Where a bill does not tell its hours, from the cheapest of ours to the dearest. */
function fairText({ fromCents, totalCents }: { fromCents: number; totalCents: number }): string {
  const total = dollarsText(totalCents);
  return fromCents === totalCents ? total : `${dollarsText(fromCents)} to ${total}`;
}

/** A file is taken in once; an earlier demo may have done so. */
async function importOnce(owner: ApiClient): Promise<string> {
  try {
    const bills = await readFile(new URL(`../bills/${FILE}`, import.meta.url));
    const path = `/v1/bill-imports?origin=own&fileName=${FILE}`;
    return (await owner.postFile(path, bills, 'text/csv')).body.id;
  } catch (error) {
    if (!(error instanceof Refused) || error.code !== 'already-exists') throw error;
    const { body } = await owner.get('/v1/bill-imports');
    return body.items.find((each: { fileName: string }) => each.fileName === FILE).id;
  }
}

const FILE = 'last-year.csv';

/** A job is judged within moments of its end: once no more come, all of them are. */
async function reportOfAll(
  owner: ApiClient,
  path: string,
): Promise<{ jobs: number; rules: { open: number }[] }> {
  let before = -1;
  for (let look = 0; ; look += 1) {
    const { body } = await owner.get(path);
    if ((body.jobs > 0 && body.jobs === before) || look === LOOKS_MAX) return body;
    before = body.jobs;
    await setTimeout(1_000);
  }
}

const LOOKS_MAX = 15;
