import { writeFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { readConfig } from '../../src/platform/config.ts';
import { EmbeddedError } from '../../src/platform/database/embedded/index.ts';
import { migrate } from '../../src/platform/database/migrate.ts';
import { provideDatabase } from '../../src/platform/database/provide-database.ts';
import { loadBigCompany } from './load-big-company.ts';
import type { Truth } from './wrongs/truth.ts';

const USAGE = `Fills an empty database with an invented company of any size.

  npm run generate -- --tickets 10000 --seed 1 [--journal] [--turns 0.2]
      [--wrongs 0.05 --truth FILE]

--tickets  how many tickets, 1 to 2,000,000 (10,000)
--seed     which company; the same seed makes the same rows (1)
--journal  with a sealed journal entry for every change
--turns    the share of visited tickets that go an uncommon but honest way, 0 to 1 (0);
           wrongs hide in them too
--wrongs   the share of visited tickets that is written wrongly on purpose, 0 to 0.5 (0)
--truth    a file for what is wrong: one line of JSON for each, with what would have been right

The database is the one that DATABASE_OWNER_URL or DATABASE_URL names, or else the embedded one.`;

try {
  await main();
} catch (error) {
  const isForPeople = error instanceof EmbeddedError || (error as Error).name === 'Error';
  console.error(isForPeople ? (error as Error).message : error);
  process.exitCode = 1;
}

async function main(): Promise<void> {
  const { values } = parseArgs({
    options: {
      tickets: { type: 'string', default: '10000' },
      seed: { type: 'string', default: '1' },
      journal: { type: 'boolean', default: false },
      turns: { type: 'string', default: '0' },
      wrongs: { type: 'string', default: '0' },
      truth: { type: 'string' },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help) return console.log(USAGE);
  const size = {
    tickets: wholeNumber('--tickets', values.tickets, 2_000_000),
    seed: wholeNumber('--seed', values.seed, 2 ** 31 - 1),
    journal: values.journal,
    turns: share('--turns', values.turns, 1),
    wrongs: share('--wrongs', values.wrongs, 0.5),
  };
  const truths: string[] = [];
  const onTruth = (truth: Truth) => truths.push(`${JSON.stringify(truth)}\n`);
  const provided = await provideDatabase(readConfig(process.env), console.log);
  try {
    await migrate(provided.ownerUrl);
    const { ownerUrl } = provided;
    const report = await loadBigCompany({ ...size, ownerUrl, onProgress, onTruth });
    if (values.truth !== undefined) await writeFile(values.truth, truths.join(''));
    console.log(
      `${report.tickets} tickets, ${report.rows} rows in ${report.seconds.toFixed(1)} s: ` +
        `${Math.round(report.ticketsPerSecond)} tickets/s, ` +
        `at most ${Math.round(report.rssMaxMegabytes)} MB of memory`,
    );
  } finally {
    await provided.stop();
  }
}

function onProgress(tickets: number): void {
  if (tickets % 10_000 === 0 && tickets > 0) console.log(`${tickets} tickets`);
}

function wholeNumber(name: string, text: string, max: number): number {
  const number = Number(text);
  if (!Number.isInteger(number) || number < 1 || number > max) {
    throw new Error(`${name} must be a whole number from 1 to ${max}.`);
  }
  return number;
}

function share(name: string, text: string, max: number): number {
  const number = Number(text);
  if (!(number >= 0 && number <= max)) throw new Error(`${name} must be from 0 to ${max}.`);
  return number;
}
