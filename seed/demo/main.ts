import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { setTimeout } from 'node:timers/promises';
import closeWithGrace from 'close-with-grace';
import { systemClock } from '../../src/platform/clock.ts';
import { type Config, readConfig } from '../../src/platform/config.ts';
import { EmbeddedError } from '../../src/platform/database/embedded/index.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { createLog } from '../../src/platform/log.ts';
import { type Running, start } from '../../src/start.ts';
import { type StaffKey, taxRule } from '../company.ts';
import { type LoadedStaff, loadCompany } from '../load-company.ts';
import { priceBook } from '../price-book.ts';
import { type ApiClient, apiClient, Refused } from './api-client.ts';
import { openTheDepot } from './depot.ts';
import { type HottestDay, hottestDay } from './hottest-day.ts';
import { ownersLook } from './owners-look.ts';
import { dollars, type Ending, stories } from './stories.ts';

// One hot afternoon of an invented company and the dispatcher’s day after it, lived over HTTP on a
// real database. With --once the
// process ends afterwards; without it the service stays up to be looked at.
const began = performance.now();
const say = (line = '') => process.stdout.write(`${line}\n`);

try {
  const config = readConfig({ LOG_LEVEL: 'warn', ...process.env });
  say('Evenhand demo: everything in it is invented.');
  const running = await startAnywhere(config);
  closeWithGrace({ delay: 20_000, logger: false }, async ({ err }) => {
    if (err) console.error(err);
    await running.stop();
  });
  await live(running, config);
  if (process.argv.includes('--once')) {
    await running.stop();
    process.exit(0);
  }
} catch (error) {
  console.error(error instanceof EmbeddedError || error instanceof Refused ? error.message : error);
  process.exit(1);
}

/** On the port of the configuration, or on a free one when that is taken. */
async function startAnywhere(config: Config): Promise<Running> {
  try {
    return await start(config, createLog(config.logLevel), { papersLeadHere: true });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw error;
    say(`Port ${config.port} is taken; using a free one.`);
    const anyPort = { ...config, port: 0 };
    return start(anyPort, createLog(config.logLevel), { papersLeadHere: true });
  }
}

async function live(running: Running, config: Config): Promise<void> {
  const staff = await loadCompany({
    db: running.db,
    clock: systemClock,
    ids: timedIds(systemClock),
  });
  const as = (key: StaffKey) => apiClient(running.url, staff[key].token);
  await openTheBook(as('owner'));
  await openTheDepot(as('owner'), staff);
  const endings: Ending[] = [];
  for (const [at, story] of stories.entries()) {
    say(`\nCall ${at + 1}`);
    const ending = await story({
      dispatcher: as('dispatcher'),
      technician: as('technician'),
      technicianId: staff.technician.id,
      say: (line) => say(`  ${line}`),
    });
    say(`  -> ${ending.title}: ${dollars(ending.totalCents)}`);
    endings.push(ending);
  }
  say('\nThe dispatcher’s hottest day');
  const hot = await hottestDay(
    { dispatcher: as('dispatcher'), say: (line) => say(`  ${line}`) },
    { leavesId: staff.technician.id, staysId: staff.second_technician.id, url: running.url },
  );
  const papers = await keepPapers(as('technician'), endings, config.dataDir);
  say('\nThe owner’s look');
  await ownersLook({
    owner: as('owner'),
    say: (line) => say(`  ${line}`),
    papersFolder: path.join(config.dataDir, 'papers'),
  });
  await mailsAreOut(as('dispatcher'));
  await tellTheEnd(running, config, staff, { endings, papers, hot });
}

/** Publishes the price book and the tax rule, unless an earlier demo did. */
async function openTheBook(owner: ApiClient): Promise<void> {
  try {
    await owner.get('/v1/price-books/in-force');
  } catch (error) {
    if (!(error instanceof Refused) || error.code !== 'no-price-book') throw error;
    const book = await owner.post('/v1/price-books', priceBook);
    await owner.post('/v1/tax-rules', taxRule);
    say(`Price book published; labor rate ${dollars(book.body.laborRateCents)} an hour.`);
  }
}

/** A paper, and the file it was kept as. */
interface KeptPaper {
  id: string;
  name: string;
}

/** Every paper of every ticket, in the customer's language, beside each other. */
async function keepPapers(
  technician: ApiClient,
  endings: Ending[],
  dataDir: string,
): Promise<Map<Ending, KeptPaper[]>> {
  const folder = path.join(dataDir, 'papers');
  await mkdir(folder, { recursive: true });
  const papers = new Map<Ending, KeptPaper[]>();
  for (const ending of endings) {
    if (ending.quote === undefined) continue;
    const { body } = await technician.get(`/v1/papers?ticketId=${ending.quote.body.ticketId}`);
    const kept: KeptPaper[] = [];
    for (const { id } of body.items) {
      const language = ending.language ?? 'en';
      const { name, bytes } = await technician.file(`/v1/papers/${id}/file?language=${language}`);
      await writeFile(path.join(folder, name), bytes);
      kept.push({ id, name });
    }
    papers.set(ending, kept);
  }
  return papers;
}

/** Mails leave within moments, but not in the moment of what they tell. */
async function mailsAreOut(dispatcher: ApiClient): Promise<void> {
  const path = '/v1/deliveries?state=waiting,sending&limit=1';
  for (let look = 0; look < 60; look += 1) {
    const { body } = await dispatcher.get(path);
    if (body.items.length === 0) return;
    await setTimeout(500);
  }
  say('Some mails are still on their way.');
}

/** Everything that happened. */
interface Lived {
  endings: Ending[];
  papers: Map<Ending, KeptPaper[]>;
  hot: HottestDay;
}

async function tellTheEnd(
  running: Running,
  config: Config,
  staff: Record<StaffKey, LoadedStaff>,
  lived: Lived,
): Promise<void> {
  const { endings, papers } = lived;
  say('\nThe afternoon');
  for (const ending of endings) {
    say(`  ${dollars(ending.totalCents).padStart(8)}  ${ending.title}: ${ending.why}`);
    const names = papers.get(ending)?.map(({ name }) => name) ?? [];
    if (names.length > 0) say(`            ${names.join('  ')}`);
  }
  const seconds = ((performance.now() - began) / 1000).toFixed(1);
  say(`\nDone in ${seconds} s.`);
  const folder = (name: string) => path.relative(process.cwd(), path.join(config.dataDir, name));
  say(`The papers are in ${folder('papers')}/`);
  if (config.smtpUrl === undefined) {
    say(`What the customers got by mail is in ${folder('mail')}/ (mail programs open .eml files)`);
  }
  const environment = path.join(config.dataDir, 'demo.env');
  await writeFile(environment, environmentOf(running.url, staff, lived), { mode: 0o600 });
  if (process.argv.includes('--once')) return;
  const page = endings.findLast((ending) => ending.page !== undefined)?.page;
  if (page !== undefined) say(`Answer as the customer, in a browser:  ${page}`);
  say(`Browse the interface at ${running.url}/docs`);
  say(`For curl:  source ${path.relative(process.cwd(), environment)}   (tokens by role)`);
  say('Ctrl-C ends it; the data stays.');
}

function environmentOf(
  url: string,
  staff: Record<StaffKey, LoadedStaff>,
  { endings, papers, hot }: Lived,
): string {
  const quoted = endings.findLast((ending) => ending.quote !== undefined);
  const last = quoted?.quote?.body;
  const paper = quoted && papers.get(quoted)?.[0];
  return [
    `export API=${url}`,
    `export OWNER='Authorization: Bearer ${staff.owner.token}'`,
    `export DISPATCHER='Authorization: Bearer ${staff.dispatcher.token}'`,
    `export TECHNICIAN='Authorization: Bearer ${staff.technician.token}'`,
    `export TECHNICIAN_ID=${staff.technician.id}`,
    `export QUOTE_ID=${last?.id ?? ''}`,
    `export TICKET_ID=${last?.ticketId ?? ''}`,
    `export PAPER_ID=${paper?.id ?? ''}`,
    `export INVOICE_ID=${endings.findLast((ending) => ending.invoice)?.invoice?.body.id ?? ''}`,
    `export VISIT_ID=${last?.visitId ?? ''}`,
    `export EQUIPMENT_ID=${endings.findLast((ending) => ending.equipmentId)?.equipmentId ?? ''}`,
    `export HOT_DAY=${hot.day}`,
    `export HOT_EVENT=${hot.event}`,
    `export HOT_TICKET_ID=${hot.ticketId}`,
    '',
  ].join('\n');
}
