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
    return await writeAside(aside, path.join(directory, fileName), mail, handing);
  } finally {
    // What somebody wrote to a customer lies about nowhere, and where it cannot be taken away it is
    // written over by the next attempt.
    await rm(aside, { force: true }).catch(() => undefined);
  }
}

async function writeAside(
  aside: string,
  file: string,
  { bytes }: RawMail,
  { signal, handOver }: HandingOver,
): Promise<Outcome> {
  try {
    await mkdir(path.dirname(file), { recursive: true, mode: 0o700 });
    await writeWhole(aside, bytes);
  } catch (error) {
    return notWritten(error);
  }
  if (signal.aborted || !(await handOver())) {
    return { outcome: 'try_again', reason: 'The attempt was ended.' };
  }
  try {
    await rename(aside, file);
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
