import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import type { FastifyInstance } from 'fastify';
import type { Logger } from 'pino';
import type { Registry } from 'prom-client';
import { startAuditing } from './audits/index.ts';
import { buildWorker } from './build-worker.ts';
import { type DeliveryDeps, startDelivering } from './delivery/index.ts';
import { startSealer } from './journal/index.ts';
import {
  createPaperDesk,
  type PaperDesk,
  paperKeys,
  readPaper,
  registerKey,
} from './papers/index.ts';
import { type Clock, systemClock } from './platform/clock.ts';
import type { Config } from './platform/config.ts';
import { type Database, openDatabase } from './platform/database/database.ts';
import { migrate } from './platform/database/migrate.ts';
import { openWatch } from './platform/database/open-watch.ts';
import { APP_ROLE, provideDatabase } from './platform/database/provide-database.ts';
import { requireReachable } from './platform/database/require-reachable.ts';
import { startForgetting } from './platform/http/start-forgetting.ts';
import { type Ids, timedIds } from './platform/ids.ts';
import { measureLoop } from './platform/measure-loop.ts';
import { createMetrics } from './platform/metrics/create-metrics.ts';
import { serveMetrics } from './platform/metrics/serve-metrics.ts';
import { createReadiness } from './platform/readiness.ts';
import { countReports } from './platform/reports/count-reports.ts';
import { openReports, type Reports, type ReportsDeps } from './platform/reports/open-reports.ts';
import { createPress } from './press/index.ts';
import { loadPaperKey, writeKeySet } from './proof/index.ts';
import { type FactorKey, loadFactorKey } from './sign-in/index.ts';
import { watchService } from './watch-service.ts';
import { recordWork } from './work/index.ts';

/** A running service. */
export interface Running {
  app: FastifyInstance;
  db: Database;
  url: string;
  /** Where its figures are read, when they are. */
  metricsUrl?: string;
  /** Resolves when the embedded database ends by itself; the service is useless from then on. */
  databaseLost: Promise<Error>;
  /** Answers what is running, seals the journal, lets go of everything. May be called again. */
  stop(): Promise<void>;
}

/** What else a start may be told. */
export interface StartOptions {
  clock?: Clock;
  /**
   * Papers lead to where this process listens when no public address is configured: for a demo,
   * whose papers are looked at on the machine that makes them.
   */
  papersLeadHere?: boolean;
}

/**
 * Starts the service: database, migrations, sealer, press, figures, application, port, audit,
 * delivery; of a process that only answers, or only works, what belongs to it. What was started is
 * stopped again when a later step fails.
 */
export async function start(
  config: Config,
  log: Logger,
  { clock = systemClock, papersLeadHere = false }: StartOptions = {},
): Promise<Running> {
  const undo: (() => Promise<unknown>)[] = [];
  const works = config.role !== 'api';
  let stopping: Promise<void> | undefined;
  const stop = () => {
    stopping ??= unwind(undo);
    return stopping;
  };
  // Loaded while the database is asked; whoever only works never needs it.
  const loading = config.role === 'worker' ? undefined : import('./app.ts');
  try {
    const provided = await provideDatabase(config, (line) => log.info(line));
    undo.push(provided.stop);
    const applied = await migrate(provided.ownerUrl);
    if (applied.length > 0) log.info({ applied }, 'the database schema was brought up to date');
    // The owner came in just now.
    if (provided.appUrl !== provided.ownerUrl) await requireReachable(provided.appUrl);
    const db = await openDatabase({
      url: provided.appUrl,
      poolMax: config.databasePoolMax,
      role: APP_ROLE,
      answerMsMax: ANSWER_MS_MAX,
      // The error drags its whole connection along; its message is all a reader needs.
      onPoolError: ({ message }) => log.warn({ reason: message }, 'an idle connection was lost'),
    });
    undo.push(db.close);
    const watch = openWatch({ url: provided.appUrl, role: APP_ROLE });
    undo.push(() => watch.end());
    const sealer = works ? startSealer(db.pool, config.sealEveryMs, log) : undefined;
    if (sealer !== undefined) undo.push(sealer.stop);
    if (works) undo.push(await startForgetting(db.pool, clock, tellForgetting(log)));
    const ids = timedIds(clock);
    const press = createPress({ workers: 1, waitingMax: 32 });
    undo.push(press.close);
    const loop = measureLoop();
    undo.push(async () => loop.stop());
    const registry = createMetrics();
    watchService(registry, { pool: db.pool, watch, press, clock });
    const reports = reportsFor(config, { main: db, watch, log, registry });
    if (reports !== undefined) undo.push(reports.close);
    const metrics = config.metrics && (await serveMetrics(registry, config.metrics));
    if (metrics !== undefined) undo.push(metrics.close);
    let ownUrl: string | undefined;
    const papers = createPaperDesk({
      press,
      key: await paperKeyFor(config, { db, clock, ids, log }),
      publicUrl: () => config.publicUrl ?? ownUrl,
      recordWork,
    });
    // What answers and what works beside it end together: no new request is taken while a turn ends.
    const first: (() => Promise<unknown>)[] = [];
    undo.push(() => Promise.all(first.map((end) => end())));
    const whyNotReady = createReadiness({
      sql: watch,
      ...(sealer && { sealerQuietMs: sealer.quietMs }),
    });
    const app =
      loading === undefined
        ? buildWorker({ log, registry, whyNotReady })
        : await (await loading).buildApp({
            ...{ db, clock, ids, log, papers, registry, whyNotReady },
            pace: {
              ...config.paceLimits,
              poolWaiting: () => db.pool.waitingCount,
              loopDelayMs: loop.delayMs,
            },
            ...(reports && { readReport: reports.read }),
            factorKey: await factorKeyFor(config, log),
            isDocumented: config.isDocumented,
            ...(config.publicUrl !== undefined && { publicUrl: config.publicUrl }),
            ...(config.trustProxy !== undefined && { trustProxy: config.trustProxy }),
          });
    first.push(() => app.close());
    const url = await app.listen({ host: config.host, port: config.port });
    if (papersLeadHere) ownUrl = url;
    if (works) {
      first.push(startAuditing({ db, clock, ids, log }).stop);
      const delivery = deliveryDeps(config, url, { db, clock, ids, log, papers });
      first.push(startDelivering(delivery).stop);
    }
    return {
      ...{ app, db, url, stop },
      ...(metrics && { metricsUrl: metrics.url }),
      databaseLost: provided.unexpectedEnd ?? never,
    };
  } catch (error) {
    await stop();
    throw error;
  }
}

// Less than the server gives a statement, so that people hear of a dead network as soon as of a slow
// statement; and back in under five seconds when it is alive again.
const ANSWER_MS_MAX = 4_500;

/** Where reports are read, when not in the main database; whoever only works answers with none. */
function reportsFor(
  { databaseReplicaUrl: url, role }: Config,
  { registry, ...deps }: Pick<ReportsDeps, 'main' | 'watch' | 'log'> & { registry: Registry },
): Reports | undefined {
  if (url === undefined || role === 'worker') return undefined;
  const replica = { url, role: APP_ROLE, answerMsMax: ANSWER_MS_MAX };
  return openReports({ ...deps, replica, onRead: countReports(registry) });
}

function tellForgetting(log: Logger): (err: unknown) => void {
  return (err) =>
    log.warn({ err }, 'old answers could not be thrown away; trying again in an hour');
}

/** Loads the key that signs papers, puts it on record and publishes it beside those of before. */
async function paperKeyFor(
  { paperKeyFile, dataDir }: Config,
  { db, clock, ids, log }: { db: Database; clock: Clock; ids: Ids; log: Logger },
): Promise<PaperDesk['key']> {
  const { key, isNew, warnings } = await loadPaperKey(paperKeyFile);
  if (isNew) log.info(`a key that signs papers was made: ${paperKeyFile}. Keep a copy of it.`);
  for (const warning of warnings) log.warn(warning);
  await registerKey({ db, now: clock.now(), newId: () => ids.next() }, key.publicKey);
  await mkdir(dataDir, { recursive: true });
  await writeKeySet(path.join(dataDir, 'paper-keys.json'), await paperKeys(db));
  return key;
}

/** Loads the key that secrets of second factors are sealed with. */
async function factorKeyFor({ factorKeyFile }: Config, log: Logger): Promise<FactorKey> {
  const { key, isNew, warnings } = await loadFactorKey(factorKeyFile);
  if (isNew) {
    log.info(`a key that seals second factors was made: ${factorKeyFile}. Keep a copy of it.`);
  }
  for (const warning of warnings) log.warn(warning);
  return key;
}

/** How papers reach people: through the mail server, or as files where there is none. */
function deliveryDeps(
  { smtpUrl, mailFrom, textGateway, dataDir, publicUrl, role }: Config,
  ownUrl: string,
  { papers, ...shared }: Pick<DeliveryDeps, 'db' | 'clock' | 'ids' | 'log'> & { papers: PaperDesk },
): DeliveryDeps {
  const { db, clock, ids, log } = shared;
  const directory = path.join(dataDir, 'mail');
  if (smtpUrl === undefined) log.info(`no SMTP_URL is set: mails become files in ${directory}`);
  else if (publicUrl === undefined) {
    log.warn('no PUBLIC_URL is set: mails about quotes have no link to answer at');
  }
  return {
    ...shared,
    papers: {
      read: async (paperId, language) => {
        const newId = () => ids.next();
        const context = { prisma: db.prisma, db, now: clock.now(), newId, papers };
        const { paper, file } = await readPaper(context, paperId, language);
        return { paper, pdf: file.bytes, fileName: file.fileName };
      },
    },
    mail:
      smtpUrl === undefined
        ? { kind: 'files', directory }
        : { kind: 'smtp', server: { url: smtpUrl } },
    text: textGateway,
    mailFrom,
    // A mail that leaves this machine leads to where others reach us, or nowhere.
    publicUrl: publicUrl ?? (smtpUrl === undefined && role === 'all' ? ownUrl : undefined),
  };
}

const never = new Promise<Error>(() => undefined);

// Last started, first stopped: the application answers before the database goes.
async function unwind(undo: (() => Promise<unknown>)[]): Promise<void> {
  for (const step of undo.toReversed()) await step();
}
