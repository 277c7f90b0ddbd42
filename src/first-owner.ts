import { systemClock } from './platform/clock.ts';
import { readConfig } from './platform/config.ts';
import { openDatabase } from './platform/database/database.ts';
import { findDatabase } from './platform/database/find-database.ts';
import { APP_ROLE } from './platform/database/provide-database.ts';
import { requireReachable } from './platform/database/require-reachable.ts';
import { timedIds } from './platform/ids.ts';
import { offerFirstLink } from './sign-in/index.ts';
import { passwordPath } from './sign-in-pages/index.ts';

// Prints the token by which the first owner sets a password. It goes to whoever runs this, and into
// no log.
try {
  const config = readConfig(process.env);
  const database = await findDatabase(config);
  try {
    await requireReachable(database.url);
    await offer(database.url, config.publicUrl?.replace(/\/$/, '') ?? '');
  } finally {
    await database.stop();
  }
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 1;
}

async function offer(url: string, publicUrl: string): Promise<void> {
  const db = await openDatabase({ url, poolMax: 1, role: APP_ROLE });
  try {
    const clock = systemClock;
    const link = await offerFirstLink({ db, clock, ids: timedIds(clock) });
    if (link === undefined) {
      console.log('Somebody can sign in already. An owner invites others: POST /v1/staff.');
      return;
    }
    const body = { token: link.token, name: '…', email: '…', password: '…' };
    console.log(
      `Whoever sends this first is the owner; it opens until ${link.expiresAt.toISOString()}:`,
    );
    console.log(`In a browser: ${publicUrl}${passwordPath(link.token)}`);
    console.log(`By program: POST /v1/sign-in-links/use ${JSON.stringify(body)}`);
  } finally {
    await db.close();
  }
}
