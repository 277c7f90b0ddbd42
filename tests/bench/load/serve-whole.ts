import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { pino } from 'pino';
import { readConfig } from '../../../src/platform/config.ts';
import { start } from '../../../src/start.ts';

/** How the service is, asked for over the channel to the process that started it. */
export interface Health {
  /** Of the event loop since the last time that somebody asked. */
  delayMs: { p50: number; p99: number };
  /** After garbage was collected. */
  heapMegabytes: number;
  rssMegabytes: number;
}

// The whole service: with its sealer, its audit, its press and its deliveries, and a log that goes
// to a file that keeps nothing.
const [url = ''] = process.argv.slice(2);
const folder = await mkdtemp(path.join(tmpdir(), 'evenhand-load-'));
const config = readConfig({ DATABASE_URL: url, PORT: '0', EVENHAND_DATA_DIR: folder });
const running = await start(config, pino({ level: 'info' }, pino.destination('/dev/null')));

const RESOLUTION_MS = 5;
setFlagsFromString('--expose-gc');
const collect: unknown = runInNewContext('gc');
const delay = monitorEventLoopDelay({ resolution: RESOLUTION_MS });
delay.enable();

process.on('message', () => {
  const delayMs = { p50: above(50), p99: above(99) };
  if (typeof collect === 'function') collect();
  delay.reset();
  const { heapUsed, rss } = process.memoryUsage();
  process.send?.({ delayMs, heapMegabytes: heapUsed / 1e6, rssMegabytes: rss / 1e6 });
});
process.once('SIGTERM', () => void running.stop().then(() => process.exit(0)));
process.send?.(running.url);

/** What it measures is the time between two ticks of a timer, of which the timer's own is no delay. */
function above(percent: number): number {
  return Math.max(0, delay.percentile(percent) / 1e6 - RESOLUTION_MS);
}
