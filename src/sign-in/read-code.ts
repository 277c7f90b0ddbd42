/** What somebody typed as the code: the six digits of an app, or a recovery code. */
export type TypedCode =
  | { kind: 'of_app'; digits: string }
  /** `place` says which of the ten it is; `letters` are all of it, as they were hashed. */
  | { kind: 'recovery'; place: number; letters: string };

/**
 * Reads a code however it was typed: with blanks or dashes, in capitals, with an O for a zero or an I
 * or L for a one, which no code has.
 * @returns undefined for what is neither
 */
export function readCode(typed: string): TypedCode | undefined {
  const letters = typed
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\s-]/g, '')
    .replace(/[oil]/g, (letter) => (letter === 'o' ? '0' : '1'));
  if (/^\d{6}$/.test(letters)) return { kind: 'of_app', digits: letters };
  if (!/^\d[0-9a-z]{9}$/.test(letters)) return undefined;
  return { kind: 'recovery', place: Number(letters[0]), letters };
}
