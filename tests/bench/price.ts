import { priceQuote, pricingInputsSchema } from '../../src/pricing/index.ts';
import { capacitorWork, workedInvoice } from '../pricing/oracle/hand-worked.ts';

export interface PriceBench {
  /** Pricing one six-line quote with its derivation, inputs already read. Median of the rounds. */
  readonly priceNs: number;
  /** Reading the same inputs through the schema first, as a route does. */
  readonly parseNs: number;
  /** Computing and adding the same amounts with bare integers: what no engine can go below. */
  readonly floorNs: number;
}

/** Measures in this process: warm-up first, then the median of several rounds of each. */
export function benchPrice(): PriceBench {
  const json = sixLineInputs();
  const inputs = pricingInputsSchema.parse(json);
  const lines = linesOf(inputs);
  if (lines !== 6) throw new Error(`the measured quote has ${lines} lines, not six`);
  return {
    priceNs: medianNs(() => linesOf(inputs)),
    parseNs: medianNs(() => pricingInputsSchema.parse(json).options.length),
    floorNs: medianNs(() => bareTotal(floorInputs)),
  };

  function linesOf(quoteInputs: typeof inputs): number {
    const result = priceQuote(quoteInputs);
    return result.outcome === 'priced' ? (result.quote.options[0]?.lines.length ?? 0) : 0;
  }
}

/** Fee, part, labor and its credit, access, tax: the usual capacitor quote. */
function sixLineInputs() {
  const invoice = workedInvoice({ rate: '0.0825', taxableClasses: ['part'] });
  return {
    ...invoice,
    policy: { ...invoice.policy, visitFeeCreditShare: '0.5' },
    options: [{ title: 'Repair', work: [capacitorWork({ accessMinutes: 15 })], adjustments: [] }],
  };
}

const rounds = 15;
const callsPerRound = 20_000;

/** Keeps the optimizer from dropping work whose result nobody reads. */
let sink = 0;

function medianNs(call: () => number): number {
  for (let i = 0; i < callsPerRound; i += 1) sink += call();
  const perCall = Array.from({ length: rounds }, () => {
    const start = process.hrtime.bigint();
    for (let i = 0; i < callsPerRound; i += 1) sink += call();
    return Number(process.hrtime.bigint() - start) / callsPerRound;
  }).sort((a, b) => a - b);
  if (!Number.isFinite(sink)) throw new Error('the measured calls gave no numbers');
  return Math.round(perCall[Math.floor(rounds / 2)] ?? Number.NaN);
}

const floorInputs = {
  feeCents: 8900,
  unitCostCents: 1840,
  partFactorThousandths: 3000,
  minutes: 45,
  accessMinutes: 15,
  rateCents: 15100,
  creditPercent: 50,
  taxTenThousandths: 825,
};

function bareTotal(quote: typeof floorInputs): number {
  const part = halfUp(quote.unitCostCents * quote.partFactorThousandths, 1000);
  const labor = halfUp(quote.minutes * quote.rateCents, 60);
  const access = halfUp(quote.accessMinutes * quote.rateCents, 60);
  const credit = Math.min(halfUp(quote.feeCents * quote.creditPercent, 100), labor + access);
  const tax = halfUp(part * quote.taxTenThousandths, 10_000);
  return quote.feeCents + part + labor + access - credit + tax;
}

function halfUp(numerator: number, denominator: number): number {
  return Math.floor((2 * numerator + denominator) / (2 * denominator));
}
