import { findDifferences } from './find-differences.ts';
import type { Difference } from './proof-verdict.ts';
import { readSeenFile, type SeenFile } from './read-seen-file.ts';

export interface Sight {
  differences: Difference[];
  /** Whether they stand even if another release, with words and a layout of its own, drew the file. */
  isCertain: boolean;
}

/**
 * Holds what a browser shows of a file against what it shows of the file drawn from the data.
 * @param drawn nothing where no paper can be drawn from the data
 * @param known what other ways of looking have found already
 * @throws FileLocked, or Error when the file cannot be read
 */
export async function compareBySight(
  bytes: Uint8Array,
  drawn: Uint8Array | undefined,
  known: readonly Difference[],
): Promise<Sight> {
  if (drawn === undefined) return { differences: [{ kind: 'undrawable' }], isCertain: true };
  const found = await readSeenFile(bytes);
  const expected = await readSeenFile(drawn);
  const seen = findDifferences(found, expected);
  const differences = [
    ...known,
    ...seen.filter(({ kind }) => kind !== 'script' || !startsIn(known)),
  ];
  if (hasAppendix(bytes)) differences.push({ kind: 'appended' });
  const isCertain =
    differences.some(({ kind }) => NEVER_OURS.has(kind)) || hasForeignAmount(found, expected);
  return { differences, isCertain };
}

function startsIn(known: readonly Difference[]): boolean {
  return known.some(({ kind }) => kind === 'script');
}

/** What no release of ours has ever drawn, so that it must have come later. */
const NEVER_OURS: ReadonlySet<Difference['kind']> = new Set([
  'overlay',
  'script',
  'attachment_added',
]);

/** Amounts come from the data alone, whatever words a release puts around them. */
function hasForeignAmount(found: SeenFile, expected: SeenFile): boolean {
  const known = amountsOf(expected);
  return [...amountsOf(found)].some(([amount, count]) => count > (known.get(amount) ?? 0));
}

function amountsOf({ pages }: SeenFile): Map<string, number> {
  const counts = new Map<string, number>();
  for (const [amount] of pages
    .map(({ words }) => words.join(' '))
    .join(' ')
    .matchAll(/\$[\d,]*\d\.\d\d/g)) {
    counts.set(amount, (counts.get(amount) ?? 0) + 1);
  }
  return counts;
}

/**
 * Programs that change a file append the change and a second end to it. A file arranged for the web
 * is whole at once and yet has two ends.
 */
function hasAppendix(bytes: Uint8Array): boolean {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
  const ends = text.match(/startxref\s+\d+\s+%%EOF/g)?.length ?? 0;
  const isArrangedForWeb = text.slice(0, 1_024).includes('/Linearized');
  return ends > (isArrangedForWeb ? 2 : 1) || !/%%EOF\s*$/.test(text.slice(-1_024));
}
