import { setTimeout as wait } from 'node:timers/promises';

/** Looks again and again until it is so; fails with what it saw last when that takes too long. */
export async function until<T>(
  look: () => Promise<T> | T,
  isSo: (seen: T) => boolean,
  withinMs = 20_000,
): Promise<T> {
  const end = Date.now() + withinMs;
  for (;;) {
    const seen = await look();
    if (isSo(seen)) return seen;
    if (Date.now() > end) throw new Error(`it never came to pass: ${JSON.stringify(seen)}`);
    await wait(20);
  }
}
