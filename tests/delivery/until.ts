import { setTimeout as wait } from 'node:timers/promises';

/** Looks again and again until it is so; fails with what it saw last after twenty seconds. */
export async function until<T>(look: () => Promise<T> | T, isSo: (seen: T) => boolean): Promise<T> {
  const end = Date.now() + 20_000;
  for (;;) {
    const seen = await look();
    if (isSo(seen)) return seen;
    if (Date.now() > end) throw new Error(`it never came to pass: ${JSON.stringify(seen)}`);
    await wait(20);
  }
}
