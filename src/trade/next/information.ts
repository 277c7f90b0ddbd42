/** How likely each outcome is in each of many rows, laid out for quick sums: a column for each outcome. */
export type ShareTable = {
  columns: readonly Float64Array[];
  /** What stays open in each row, in bits. */
  entropiesBits: Float64Array;
  /** For each row the first one with the same shares. */
  sameAs: Int32Array;
};

/** What one clue can show under each suspect. */
export type ClueTable = {
  shares: ShareTable;
  /** For each suspect its row in the table; most suspects share one and the same. */
  rows: Int32Array;
};

/** @param rows the shares of the outcomes, each row adding up to one */
export function tabulate(rows: readonly (readonly number[])[]): ShareTable {
  const columns = (rows[0] ?? []).map((_, outcome) =>
    Float64Array.from(rows, (row) => row[outcome] ?? 0),
  );
  const sameAs = rows.map((row) => rows.findIndex((each) => isSame(row, each)));
  return {
    columns,
    entropiesBits: Float64Array.from(rows, entropyBits),
    sameAs: Int32Array.from(sameAs),
  };
}

function isSame(a: readonly number[], b: readonly number[]): boolean {
  return a === b || a.every((share, outcome) => share === b[outcome]);
}

/**
 * Mutual information, in bits, between who it is and the joint outcome of several clues that are
 * independent under each suspect: the entropy of the outcome less what stays open of it (Shannon).
 * In which of its ways a fault looks is nobody's question: what only tells these apart counts as
 * noise.
 * @param shares how likely each suspect is; they add up to one
 * @param waysOfOne the suspects, by index, that are the same fault looking in several ways
 */
export function expectedInformationBits(
  shares: Float64Array,
  tables: readonly ClueTable[],
  waysOfOne: readonly Int32Array[] = [],
): number {
  const few = outcomeCount(tables) < groupedFrom ? { shares, tables } : grouped(shares, tables);
  let noiseBits = 0;
  for (const { shares: table, rows } of few.tables) {
    noiseBits += dot(few.shares, table.entropiesBits, rows);
  }
  for (const ways of waysOfOne) noiseBits += bitsBetween(ways, shares, tables);
  return Math.max(0, jointEntropyBits(few.shares, few.tables) - noiseBits);
}

/** With fewer joint outcomes than this the groups cost more than they save. */
const groupedFrom = 8;

function outcomeCount(tables: readonly ClueTable[]): number {
  return tables.reduce((product, { shares }) => product * shares.columns.length, 1);
}

/**
 * The same question with fewer suspects: those under whom every clue shows the same count as one. Of
 * some eighty suspects the clues of one check tell apart about five groups.
 */
function grouped(
  shares: Float64Array,
  tables: readonly ClueTable[],
): { shares: Float64Array; tables: ClueTable[] } {
  const firsts: number[] = [];
  const sums: number[] = [];
  for (let at = 0; at < shares.length; at += 1) {
    const group = groupOf(at, firsts, tables);
    if (group === firsts.length) firsts.push(at);
    sums[group] = (sums[group] ?? 0) + (shares[at] ?? 0);
  }
  return {
    shares: new Float64Array(sums),
    tables: tables.map(({ shares: table, rows }) => ({
      shares: table,
      rows: new Int32Array(firsts.map((at) => rows[at] ?? 0)),
    })),
  };
}

/** The group whose first suspect shows the same in every clue; a new one where none does. */
function groupOf(at: number, firsts: readonly number[], tables: readonly ClueTable[]): number {
  let group = 0;
  for (const first of firsts) {
    if (isAlike(at, first, tables)) return group;
    group += 1;
  }
  return group;
}

function isAlike(a: number, b: number, tables: readonly ClueTable[]): boolean {
  for (const { shares, rows } of tables) {
    if (shares.sameAs[rows[a] ?? 0] !== shares.sameAs[rows[b] ?? 0]) return false;
  }
  return true;
}

/** What the clues tell apart among the ways of one fault, as likely as it is. */
function bitsBetween(ways: Int32Array, shares: Float64Array, tables: readonly ClueTable[]): number {
  const telling = tables.filter((table) => isToldApart(ways, table));
  if (telling.length === 0) return 0;
  const own = new Float64Array(ways.length);
  ways.forEach((at, way) => {
    own[way] = shares[at] ?? 0;
  });
  const sum = own.reduce((total, each) => total + each, 0);
  if (sum === 0) return 0;
  const parts = own.map((each) => each / sum);
  const ofWays = telling.map(({ shares: table, rows }) => ({
    shares: table,
    rows: ways.map((at) => rows[at] ?? 0),
  }));
  return sum * expectedInformationBits(parts, ofWays);
}

/** Whether a clue looks otherwise in one of the ways: most speak of the fault, or not of it at all. */
function isToldApart(ways: Int32Array, { shares: { sameAs }, rows }: ClueTable): boolean {
  const first = sameAs[rows[ways[0] ?? 0] ?? 0];
  for (const at of ways) {
    if (sameAs[rows[at] ?? 0] !== first) return true;
  }
  return false;
}

function jointEntropyBits(shares: Float64Array, tables: readonly ClueTable[]): number {
  if (tables.length === 0) return 0;
  // One buffer for each clue but the last: nothing is kept of a branch once it is summed.
  const buffers = tables.slice(1).map(() => new Float64Array(shares.length));
  return entropyFrom(0, shares, tables, buffers);
}

/** The entropy of the clues from `depth` on; `weights` are the suspects' shares of the outcome so far. */
function entropyFrom(
  depth: number,
  weights: Float64Array,
  tables: readonly ClueTable[],
  buffers: readonly Float64Array[],
): number {
  const table = tables[depth];
  if (table === undefined) return 0;
  const { shares, rows } = table;
  const buffer = buffers[depth];
  let bits = 0;
  for (const column of shares.columns) {
    if (buffer === undefined) {
      bits += surprise(dot(weights, column, rows));
    } else {
      multiply(weights, column, rows, buffer);
      bits += entropyFrom(depth + 1, buffer, tables, buffers);
    }
  }
  return bits;
}

function multiply(
  weights: Float64Array,
  column: Float64Array,
  rows: Int32Array,
  into: Float64Array,
): void {
  for (let at = 0; at < into.length; at += 1) {
    into[at] = (weights[at] ?? 0) * (column[rows[at] ?? 0] ?? 0);
  }
}

function dot(weights: Float64Array, column: Float64Array, rows: Int32Array): number {
  let sum = 0;
  for (let at = 0; at < weights.length; at += 1) {
    sum += (weights[at] ?? 0) * (column[rows[at] ?? 0] ?? 0);
  }
  return sum;
}

function entropyBits(shares: readonly number[]): number {
  return shares.reduce((sum, share) => sum + surprise(share), 0);
}

/** What one outcome of this share adds to the entropy. */
function surprise(share: number): number {
  return share > 0 ? -share * Math.log2(share) : 0;
}
