import { pino } from 'pino';
import { buildApp } from '../../src/app.ts';
import { startSealer } from '../../src/journal/index.ts';
import { openDatabase } from '../../src/platform/database/database.ts';
import { APP_ROLE } from '../../src/platform/database/provide-database.ts';
import { timedIds } from '../../src/platform/ids.ts';
import { fixedClock } from '../harness/fixed-clock.ts';
import { testPapers } from '../harness/test-papers.ts';

// A process of its own that seals and serves, to be killed.
const [url = ''] = process.argv.slice(2);
const db = await openDatabase({ url, poolMax: 5, role: APP_ROLE });
const log = pino({ level: 'silent' });
const clock = fixedClock();
startSealer(db.pool, 50, log);
const deps = { db, clock, ids: timedIds(clock), log, papers: testPapers() };
const app = await buildApp(deps);
process.send?.(await app.listen({ host: '127.0.0.1', port: 0 }));
