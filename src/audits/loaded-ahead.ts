/**
 * Works on slices one after another, each with what was loaded for it. The next slice begins to load
 * before the present one is worked on, so that the database reads while this process thinks. Nothing
 * is under way any more when it ends, be it well or not: both may share one transaction.
 */
export async function loadedAhead<Slice, Loaded>(
  slices: readonly Slice[],
  load: (slice: Slice) => Promise<Loaded>,
  work: (loaded: Loaded) => Promise<void>,
): Promise<void> {
  const [first, ...rest] = slices;
  if (first === undefined) return;
  let loading = load(first);
  try {
    for (const next of rest) {
      const loaded = await loading;
      loading = load(next);
      // Whoever awaits it next hears of a failure; until then it is not unheard of.
      loading.catch(() => undefined);
      await work(loaded);
    }
    await work(await loading);
  } finally {
    await loading.catch(() => undefined);
  }
}
