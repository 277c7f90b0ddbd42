import closeWithGrace from 'close-with-grace';
import { readConfig, unknownSettings } from './platform/config.ts';
import { EmbeddedError } from './platform/database/embedded/index.ts';
import { createLog } from './platform/log.ts';
import { start } from './start.ts';

// The process: configuration, service, graceful end. Everything else is in start.ts.
try {
  const config = readConfig(process.env);
  const log = createLog(config.logLevel);
  for (const name of unknownSettings(process.env)) {
    log.warn(`${name} is no setting of this program and changes nothing; is it mistyped?`);
  }
  const running = await start(config, log);
  // Before anybody is told that it runs, who may end it at once.
  closeWithGrace({ delay: 20_000, logger: log }, async ({ err }) => {
    if (err) log.error({ err }, 'ending after an error');
    await running.stop();
  });
  const docs = config.isDocumented ? `; its interface is described at ${running.url}/docs` : '';
  log.info(`Evenhand answers at ${running.url}${docs}`);
  if ((await running.db.pool.query('SELECT FROM company')).rowCount === 0) {
    log.info('There is no company here yet: npm run first-owner, sign in, then POST /v1/company.');
  }
  if (running.metricsUrl) log.info(`Its figures are at ${running.metricsUrl}`);
  void running.databaseLost.then((error) => {
    log.fatal({ err: error }, 'the embedded database is gone');
    process.exit(1);
  });
} catch (error) {
  // What went wrong with the configuration or the embedded database is written for people.
  const isForPeople = error instanceof EmbeddedError || (error as Error).name === 'Error';
  console.error(portTaken(error) ?? (isForPeople ? (error as Error).message : error));
  process.exit(1);
}

function portTaken(error: unknown): string | undefined {
  const { code, port } = error as { code?: string; port?: number };
  if (code !== 'EADDRINUSE') return undefined;
  return `Port ${port} is taken. Set PORT to another one, or to 0 for any free one.`;
}
