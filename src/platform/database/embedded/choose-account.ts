import { readFile, stat } from 'node:fs/promises';
import { EmbeddedError, USE_ANOTHER_SERVER } from './embedded-error.ts';
import { errorCodeOf } from './error-code-of.ts';

/** The user and group that the Postgres programs run under. */
export type Account = { name: string; uid: number; gid: number };

/**
 * Says under which account Postgres must run on this cluster: undefined means "as ourselves".
 * Postgres refuses to run as root. Root lends it the owner of the data, and for new data the
 * account `nobody`, which every system has: no account is ever created.
 * @throws EmbeddedError 'not_ours' when the data belongs to somebody else, 'no_account'
 */
export async function chooseAccount(clusterDir: string): Promise<Account | undefined> {
  const owner = await ownerOf(clusterDir);
  const ourUid = process.getuid?.();
  if (ourUid === 0) {
    return owner !== undefined && owner.uid !== 0 ? owner : findNobody();
  }
  if (owner !== undefined && owner.uid !== ourUid) {
    throw new EmbeddedError(
      'not_ours',
      `The data in ${clusterDir} belongs to ${owner.name}, and this process runs as uid ${ourUid}. ` +
        'Start it the way it was started first, or set EVENHAND_DATA_DIR to another directory. ' +
        USE_ANOTHER_SERVER,
    );
  }
  return undefined;
}

async function ownerOf(directory: string): Promise<Account | undefined> {
  try {
    const { uid, gid } = await stat(directory);
    return { name: `uid ${uid}`, uid, gid };
  } catch (error) {
    if (errorCodeOf(error) === 'ENOENT') return undefined;
    throw error;
  }
}

async function findNobody(): Promise<Account> {
  const lines = (await readFile('/etc/passwd', 'utf8')).split('\n');
  const [name, , uid, gid] = lines.find((line) => line.startsWith('nobody:'))?.split(':') ?? [];
  if (name === undefined || uid === undefined || gid === undefined) {
    throw new EmbeddedError(
      'no_account',
      'Postgres refuses to run as root, and this system has no account "nobody" to run it under. ' +
        `Start as an ordinary user. ${USE_ANOTHER_SERVER}`,
    );
  }
  // macOS writes the id as -2; the system calls that change ownership take it unsigned.
  return { name, uid: Number(uid) >>> 0, gid: Number(gid) >>> 0 };
}
