/**
 * How likely each outcome of one clue is under each suspect, laid out for quick sums: a column for
 * each outcome, a row for each suspect.
 */
export type ClueTable = {
  columns: readonly Float64Array[];
  /** What stays open of this clue once the suspect is known, in bits. */
  noiseBits: number;
};

/**
 * @param rows the shares of the outcomes under each suspect, each adding up to one; most suspects
 *   share one and the same row, whose entropy is then reckoned once
 */
export function tabulate(shares: Float64Array, rows: readonly (readonly number[])[]): ClueTable {
  const columns = (rows[0] ?? []).map(() => new Float64Array(rows.length));
  const entropies = new Map<readonly number[], number>();
  let noiseBits = 0;
  rows.forEach((row, at) => {
    columns.forEach((column, outcome) => {
      column[at] = row[outcome] ?? 0;
    });
    const entropy = entropies.get(row) ?? entropyBits(row);
    entropies.set(row, entropy);
    noiseBits += (shares[at] ?? 0) * entropy;
  });
  return { columns, noiseBits };
}

/**
 * Mutual information, in bits, between the suspect and the joint outcome of several clues that are
 * independent under each suspect: the entropy of the outcome less what stays open of it (Shannon).
 * @param shares how likely each suspect is; they add up to one
 */
export function expectedInformationBits(
  shares: Float64Array,
  tables: readonly ClueTable[],
): number {
  const noiseBits = tables.reduce((sum, table) => sum + table.noiseBits, 0);
  return Math.max(0, jointEntropyBits(shares, tables) - noiseBits);
}

/** One buffer for each clue: the outcomes multiply, so nothing is kept of a branch once it is summed. */
function jointEntropyBits(shares: Float64Array, tables: readonly ClueTable[]): number {
  const last = tables.at(-1);
  if (last === undefined) return 0;
  const buffers = tables.slice(1).map(() => new Float64Array(shares.length));
  const walk = (depth: number, weights: Float64Array): number => {
    const table = tables[depth];
    const buffer = buffers[depth];
    let bits = 0;
    if (table === undefined || buffer === undefined) {
      for (const column of last.columns) bits += surprise(dot(weights, column));
      return bits;
    }
    for (const column of table.columns) {
      multiply(weights, column, buffer);
      bits += walk(depth + 1, buffer);
    }
    return bits;
  };
  return walk(0, shares);
}

function multiply(weights: Float64Array, column: Float64Array, into: Float64Array): void {
  for (let at = 0; at < into.length; at += 1) into[at] = (weights[at] ?? 0) * (column[at] ?? 0);
}

function dot(weights: Float64Array, column: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < weights.length; at += 1) sum += (weights[at] ?? 0) * (column[at] ?? 0);
  return sum;
}

function entropyBits(shares: readonly number[]): number {
  return shares.reduce((sum, share) => sum + surprise(share), 0);
}

/** What one outcome of this share adds to the entropy. */
function surprise(share: number): number {
  return share > 0 ? -share * Math.log2(share) : 0;
}
