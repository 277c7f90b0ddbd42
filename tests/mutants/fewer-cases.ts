import * as fastCheck from 'fast-check';

export * from 'fast-check';

/**
 * Of every law these many cases at most, and no search for the smallest that fails: one is enough.
 * A mutant that survives so few might be noticed by all of them, never the other way round.
 */
const casesMax = 100;

type Options<Ts> = fastCheck.Parameters<Ts>;

export function assert<Ts>(law: fastCheck.IAsyncProperty<Ts>, options?: Options<Ts>): Promise<void>;
export function assert<Ts>(law: fastCheck.IProperty<Ts>, options?: Options<Ts>): void;
export function assert<Ts>(law: fastCheck.IRawProperty<Ts>, options?: Options<Ts>) {
  return fastCheck.assert(law, {
    ...options,
    numRuns: Math.min(options?.numRuns ?? casesMax, casesMax),
    endOnFailure: true,
  });
}

export default { ...fastCheck, assert };
