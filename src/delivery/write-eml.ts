import { mkdir, open, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import type { HandingOver, Outcome, RawMail } from './outcome.ts';

/**
 * Puts a mail as a file into a folder, where no mail server is set up. It appears whole and under
 * its own name, or not at all: written aside first, then renamed.
 */
export async function writeEml(
  directory: string,
  fileName: string,
  mail: RawMail,
  handing: HandingOver,
): Promise<Outcome> {
  const aside = path.join(directory, `.${fileName}.part`);
  try {
    await mkdir(directory, { recursive: true, mode: 0o700 });
    await writeWhole(aside, mail.bytes);
  } catch (error) {
    return notWritten(error);
  }
  if (handing.signal.aborted || !(await handing.handOver())) {
    await rm(aside, { force: true });
    return { outcome: 'try_again', reason: 'The attempt was ended.' };
  }
  try {
    await rename(aside, path.join(directory, fileName));
    return { outcome: 'sent' };
  } catch (error) {
    return { outcome: 'unsure', reason: notWritten(error).reason };
  }
}

async function writeWhole(file: string, bytes: Uint8Array): Promise<void> {
  const handle = await open(file, 'w', 0o600);
  try {
    await handle.writeFile(bytes);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

function notWritten(error: unknown) {
  const { code = 'unknown' } = error as NodeJS.ErrnoException;
  return {
    outcome: 'try_again',
    reason: `The file could not be written (${code}).`,
  } as const;
}
