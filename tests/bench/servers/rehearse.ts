import { pino } from 'pino';
import { buildApp } from '../../../src/app.ts';
import { systemClock } from '../../../src/platform/clock.ts';
import { openDatabase } from '../../../src/platform/database/database.ts';
import { APP_ROLE } from '../../../src/platform/database/provide-database.ts';
import { timedIds } from '../../../src/platform/ids.ts';
import { testPapers } from '../../harness/test-papers.ts';
import { rehearseStatements } from './record-statements.ts';
import type { RecordedRequest } from './recorded.ts';
import type { BenchRequest } from './send.ts';

/**
 * Runs each request once through the real application without effect, and gives the statements it
 * sent with their own parameters: what the floor will send in earnest.
 */
export async function rehearse(url: string, requests: BenchRequest[]): Promise<RecordedRequest[]> {
  // One connection and one request at a time, so that each statement belongs to its request.
  const db = await openDatabase({ url, poolMax: 1, role: APP_ROLE });
  const ids = timedIds(systemClock);
  const log = pino({ level: 'silent' });
  const app = await buildApp({ db, clock: systemClock, ids, log, papers: testPapers() });
  await app.ready();
  const recorder = rehearseStatements();
  try {
    const recorded: RecordedRequest[] = [];
    for (const { method = 'POST', path, headers, body } of requests) {
      recorder.take();
      const start = performance.now();
      const reply = await app.inject({
        ...{ method, url: path, headers },
        ...(body !== '' && { payload: body }),
      });
      const ms = performance.now() - start;
      if (reply.statusCode >= 300) throw new Error(`${path}: ${reply.statusCode} ${reply.body}`);
      recorded.push({
        statements: recorder.take(),
        status: reply.statusCode,
        headers: { 'content-type': String(reply.headers['content-type']) },
        body: reply.body,
        ms,
      });
    }
    return recorded;
  } finally {
    recorder.stop();
    await app.close();
    await db.close();
  }
}
