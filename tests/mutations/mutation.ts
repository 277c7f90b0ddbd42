/**
 * One deliberate mistake in the program. The test it names must fail with it: a guard whose test
 * passes with the guard broken guards nothing.
 */
export interface Mutation {
  /** What the mistake would do to somebody, in words. */
  readonly breaks: string;
  readonly file: `src/${string}.ts`;
  /** Stands exactly once in the file. */
  readonly find: string;
  readonly replace: string;
  readonly caughtBy: {
    readonly file: `tests/${string}.test.ts`;
    /** The whole title of the test, or the part of it that names the guarantee. */
    readonly name: string;
  };
  /** The test needs the database, which takes its time to start. */
  readonly database?: true;
}
