/**
 * The chance of `count` or more of `trials` at a chance of `part` in `whole`, in whole numbers to
 * the end: sum of C(n, k) part^k (whole - part)^(n - k), over whole^n. Only the quotient is rounded.
 */
export function exactUpperTail(count: number, trials: number, part: number, whole: number): number {
  let ways = 1n;
  let sum = 0n;
  for (let hits = 0; hits <= trials; hits += 1) {
    if (hits >= count)
      sum += ways * BigInt(part) ** BigInt(hits) * BigInt(whole - part) ** BigInt(trials - hits);
    ways = (ways * BigInt(trials - hits)) / BigInt(hits + 1);
  }
  return quotient(sum, BigInt(whole) ** BigInt(trials));
}

/** Two whole numbers of any size divided, right to the last place but one of a number. */
function quotient(over: bigint, under: bigint): number {
  if (over === 0n) return 0;
  const bits = under.toString(2).length - over.toString(2).length + 64;
  return Number((over << BigInt(Math.max(0, bits))) / under) / 2 ** Math.max(0, bits);
}

/** C(marked, count) C(all - marked, drawn - count) over C(all, drawn), in whole numbers to the end. */
export function exactDrawn(count: number, all: number, marked: number, drawn: number): number {
  return quotient(
    waysToChoose(marked, count) * waysToChoose(all - marked, drawn - count),
    waysToChoose(all, drawn),
  );
}

function waysToChoose(all: number, some: number): bigint {
  if (some < 0 || some > all) return 0n;
  let ways = 1n;
  for (let taken = 0; taken < some; taken += 1) {
    ways = (ways * BigInt(all - taken)) / BigInt(taken + 1);
  }
  return ways;
}
