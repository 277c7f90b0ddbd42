/** What is wrong in a file, and where somebody finds it in a spreadsheet or an editor. */
export interface FileMistake {
  /** The line of the file, from 1, on which the row begins. */
  line: number;
  /** The name of the column; null when it is the row, or the file, that is wrong. */
  column: string | null;
  /** Follows the name of the column, "is missing"; without a column it is a sentence. */
  message: string;
}

/** The first mistakes of a file, and how many there are beyond them. */
export interface FileMistakes {
  mistakes: FileMistake[];
  more: number;
}

/** Adds a mistake; beyond the hundredth they are only counted. */
export function note(found: FileMistakes, mistake: FileMistake): void {
  if (found.mistakes.length < LISTED_MAX) found.mistakes.push(mistake);
  else found.more += 1;
}

/** Whoever mends a hundred cells sees the pattern. */
const LISTED_MAX = 100;
