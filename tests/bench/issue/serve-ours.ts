import { pino } from 'pino';
import { buildApp } from '../../../src/app.ts';
import { systemClock } from '../../../src/platform/clock.ts';
import { openDatabase } from '../../../src/platform/database/database.ts';
import { APP_ROLE } from '../../../src/platform/database/provide-database.ts';
import { timedIds } from '../../../src/platform/ids.ts';
import { testPapers } from '../../harness/test-papers.ts';
import { poolMax } from '../servers/recorded.ts';

// The application as it runs, with its log, which goes to a file that keeps nothing. Only the sealer
// is left out: it works in the background and would do so through the floor's turns too.
const [url = ''] = process.argv.slice(2);
const db = await openDatabase({ url, poolMax, role: APP_ROLE });
const log = pino({ level: 'info' }, pino.destination('/dev/null'));
const ids = timedIds(systemClock);
const app = await buildApp({ db, clock: systemClock, ids, log, papers: testPapers() });
process.send?.(await app.listen({ host: '127.0.0.1', port: 0 }));
