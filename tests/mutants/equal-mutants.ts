/** A change after which nothing can differ, so that no test can notice it. */
export type EqualMutant = {
  /** Below src/. */
  file: string;
  text: string;
  becomes: string;
  why: string;
};

export const equalMutants: readonly EqualMutant[] = [];
