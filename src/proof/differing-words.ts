/** Words of one text that the other has not, in the place where they part. */
export interface DifferingWords {
  says: string;
  signed: string;
}

/**
 * Finds where two texts part, word by word, by their longest common subsequence. Words that were
 * only cut or joined otherwise (`$1,` `850.00`) are no difference.
 */
export function differingWords(
  says: readonly string[],
  signed: readonly string[],
): DifferingWords[] {
  const start = commonStart(says, signed);
  const end = commonEnd(says.slice(start), signed.slice(start));
  const found = says.slice(start, says.length - end);
  const drawn = signed.slice(start, signed.length - end);
  return partings(found, drawn)
    .filter(({ says, signed }) => says.join('') !== signed.join(''))
    .map(({ says, signed }) => ({ says: phrase(says), signed: phrase(signed) }));
}

/** Above so many pairs of words the comparison would take too long; all is told as one parting. */
const PAIRS_MAX = 4_000_000;
const PHRASE_LETTERS_MAX = 120;

interface Parting {
  says: string[];
  signed: string[];
}

function partings(found: readonly string[], drawn: readonly string[]): Parting[] {
  if (found.length * drawn.length > PAIRS_MAX) return [{ says: [...found], signed: [...drawn] }];
  const common = commonLengths(found, drawn);
  const width = drawn.length + 1;
  const partings: Parting[] = [];
  let open: Parting | undefined;
  let [i, j] = [0, 0];
  while (i < found.length || j < drawn.length) {
    const word = found[i];
    const other = drawn[j];
    if (word !== undefined && word === other) {
      open = undefined;
      i += 1;
      j += 1;
      continue;
    }
    if (open === undefined) {
      open = { says: [], signed: [] };
      partings.push(open);
    }
    const withoutWord = common[(i + 1) * width + j] ?? 0;
    const withoutOther = common[i * width + j + 1] ?? 0;
    if (word !== undefined && (other === undefined || withoutWord >= withoutOther)) {
      open.says.push(word);
      i += 1;
    } else if (other !== undefined) {
      open.signed.push(other);
      j += 1;
    }
  }
  return partings;
}

/** For each pair of places, how many words the rests from there on have in common. */
function commonLengths(found: readonly string[], drawn: readonly string[]): Uint32Array {
  const width = drawn.length + 1;
  const lengths = new Uint32Array((found.length + 1) * width);
  for (let i = found.length - 1; i >= 0; i -= 1) {
    for (let j = drawn.length - 1; j >= 0; j -= 1) {
      const at = i * width + j;
      lengths[at] =
        found[i] === drawn[j]
          ? (lengths[at + width + 1] ?? 0) + 1
          : Math.max(lengths[at + width] ?? 0, lengths[at + 1] ?? 0);
    }
  }
  return lengths;
}

function commonStart(a: readonly string[], b: readonly string[]): number {
  let at = 0;
  while (at < a.length && at < b.length && a[at] === b[at]) at += 1;
  return at;
}

function commonEnd(a: readonly string[], b: readonly string[]): number {
  let at = 0;
  while (at < a.length && at < b.length && a.at(-1 - at) === b.at(-1 - at)) at += 1;
  return at;
}

/** Of a long text its beginning, and the first amounts of what is left out. */
function phrase(words: readonly string[]): string {
  const text = words.join(' ');
  if (text.length <= PHRASE_LETTERS_MAX) return text;
  const start = text.slice(0, PHRASE_LETTERS_MAX);
  const amounts = text.slice(PHRASE_LETTERS_MAX).match(/\$[\d,]*\d\.\d\d/g) ?? [];
  return [start, ...amounts.slice(0, AMOUNTS_MAX), ''].join('… ').trimEnd();
}

const AMOUNTS_MAX = 3;
