import { hash, verify } from '@node-rs/argon2';
import { ProblemError } from '../platform/http/problem.ts';

/** What is stored of a password: its Argon2id hash with a salt of its own. */
export function hashPassword(password: string): Promise<string> {
  return inTurn(() => hash(letters(password), PARAMETERS));
}

/**
 * Whether a password is the one kept. Where none is kept the same work is done all the same, so that
 * nobody learns by waiting who has one.
 */
export async function isPassword(password: string, kept: string | undefined): Promise<boolean> {
  const isRight = await inTurn(() => verify(kept ?? NOBODYS, letters(password)));
  return kept !== undefined && isRight;
}

/** Whether a hash was made with other parameters than today's, and should be made anew. */
export function isOutdated(kept: string): boolean {
  return !kept.startsWith(TODAY);
}

/** The letters as they are meant, however the keyboard puts accents together (Unicode, UAX 15). */
function letters(password: string): string {
  return password.normalize('NFC');
}

// OWASP, Password Storage Cheat Sheet: Argon2id with 19 MiB of memory, two passes, one lane.
const PARAMETERS = { memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;
const TODAY = '$argon2id$v=19$m=19456,t=2,p=1$';

/** Of 32 random bytes that were kept nowhere. */
const NOBODYS =
  '$argon2id$v=19$m=19456,t=2,p=1$YIg7wUJc+QRLf/TR7Rk1hA$DBdSFheahjDIT00DnG/nsQ3qZaZesqO3xEtdeVMKuSs';

/** Each hash takes a processor and 19 MiB; more at once would slow down everything else. */
const AT_ONCE_MAX = 2;
/** At some twenty milliseconds each, whoever comes later would wait longer than a second. */
const WAITING_MAX = 100;

let running = 0;
const waiting: (() => void)[] = [];

async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (running < AT_ONCE_MAX) running += 1;
  else {
    if (waiting.length >= WAITING_MAX) {
      throw new ProblemError('unavailable', 'Too many people sign in right now. Try again.');
    }
    // Whoever ends hands its place on, so that nobody who comes in between takes it.
    await new Promise<void>((resolve) => waiting.push(resolve));
  }
  try {
    return await work();
  } finally {
    const next = waiting.shift();
    if (next === undefined) running -= 1;
    else next();
  }
}
