/** What has to be there to check a sum; both the engine's options and the API's JSON have it. */
export interface AddableCharges {
  readonly lines: readonly AddableLine[];
  readonly classTotals: Readonly<Record<string, number>>;
  readonly taxCents: number;
  readonly totalCents: number;
}

export interface AddableLine {
  readonly key: string;
  readonly position: number;
  readonly kind: string;
  readonly class: string;
  readonly amountCents: number;
  readonly aimedAt?: string | null | undefined;
  readonly quantity?: number | null | undefined;
  readonly unitPriceCents?: number | null | undefined;
}

/**
 * Checks a priced option, or the decline, as a distrustful customer would: every amount is whole
 * cents, the lines come to the total, each class to its total, parts are quantity x unit price,
 * and whatever is aimed at a line finds it.
 *
 * @throws {Error} that lists everything that does not add up.
 */
export function assertAddsUp(charges: AddableCharges): void {
  const problems = [
    ...wrongAmounts(charges),
    ...wrongSums(charges),
    ...wrongPartLines(charges.lines),
    ...wrongOrder(charges.lines),
    ...wrongAims(charges.lines),
  ];
  if (problems.length > 0) throw new Error(`Does not add up:\n${problems.join('\n')}`);
}

function wrongAmounts({ lines, classTotals, taxCents, totalCents }: AddableCharges): string[] {
  const amounts = [
    ...lines.map(({ key, amountCents }) => [key, amountCents] as const),
    ...Object.entries(classTotals),
    ['tax', taxCents] as const,
    ['total', totalCents] as const,
  ];
  const broken = amounts
    .filter(([, amount]) => !Number.isSafeInteger(amount))
    .map(([name, amount]) => `${name} is ${amount}, which is no whole number of cents`);
  const raised = lines
    .filter(({ kind, amountCents }) => reducingKinds.has(kind) && amountCents > 0)
    .map(({ key, kind }) => `${key} is a ${kind} that adds to the price`);
  return [...broken, ...raised];
}

const reducingKinds = new Set(['discount', 'credit']);

function wrongSums({ lines, classTotals, taxCents, totalCents }: AddableCharges): string[] {
  const expected = { ...classTotals, tax: taxCents };
  const byClass = new Map(Object.keys(expected).map((name) => [name, 0]));
  for (const line of lines) {
    byClass.set(line.class, (byClass.get(line.class) ?? 0) + line.amountCents);
  }
  const stated: Readonly<Record<string, number>> = expected;
  const classes = [...byClass]
    .filter(([name, sum]) => stated[name] !== sum)
    .map(([name, sum]) => `the lines of class ${name} come to ${sum}, not ${stated[name]}`);
  const sum = lines.reduce((total, { amountCents }) => total + amountCents, 0);
  return sum === totalCents ? classes : [...classes, `the lines come to ${sum}, not ${totalCents}`];
}

function wrongPartLines(lines: readonly AddableLine[]): string[] {
  return lines
    .filter(({ kind }) => kind === 'part')
    .filter(
      ({ quantity, unitPriceCents, amountCents }) =>
        typeof quantity !== 'number' ||
        typeof unitPriceCents !== 'number' ||
        quantity * unitPriceCents !== amountCents,
    )
    .map((line) => `${line.key}: ${line.quantity} x ${line.unitPriceCents} != ${line.amountCents}`);
}

function wrongOrder(lines: readonly AddableLine[]): string[] {
  const keys = new Set(lines.map(({ key }) => key));
  const repeated = keys.size === lines.length ? [] : ['a line key stands twice'];
  const misplaced = lines
    .filter(({ position }, at) => position !== at + 1)
    .map(({ key, position }) => `${key} stands at position ${position}`);
  return [...repeated, ...misplaced];
}

function wrongAims(lines: readonly AddableLine[]): string[] {
  return lines.flatMap(({ key, class: lineClass, aimedAt }) => {
    if (aimedAt === undefined || aimedAt === null) return [];
    const target = lines.find((line) => line.key === aimedAt);
    if (target === undefined) return [`${key} is aimed at ${aimedAt}, which is not there`];
    return target.class === lineClass ? [] : [`${key} is not of the class it is aimed at`];
  });
}
