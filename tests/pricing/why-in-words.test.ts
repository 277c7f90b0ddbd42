import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Line,
  priceQuote,
  pricingInputsSchema,
  type Why,
  type WhyNode,
  whyForCustomer,
  whyInWords,
  whyNodeInWords,
} from '../../src/pricing/index.ts';
import { arbitraryInputs } from './arbitrary-inputs.ts';
import { capacitorWork, contactorWork, workedInvoice } from './oracle/hand-worked.ts';
import { priced } from './price.ts';

const word = (exact: string, unit: 'cents' | 'cents_per_hour' = 'cents') =>
  whyNodeInWords({ node: 'step', name: 'price', exact, unit, from: [] });

describe('an exact amount is said', () => {
  it.each([
    ['452910/60', 'cents', '- price = $75.485'],
    ['7549/1', 'cents', '- price = $75.49'],
    ['-1510/1', 'cents', '- price = -$15.10'],
    ['5/1000', 'cents', '- price = $0.00005'],
    ['1204500825/1000000', 'cents', '- price = $12.04500825'],
    ['12045008251/10000000', 'cents', '- price = 12,045,008,251/10,000,000 cents ~ $12.0450'],
    // 81,330.44 a year over 1,152 hours.
    ['8133044/1152', 'cents_per_hour', '- price = 2,033,261/288 cents an hour ~ $70.5993 an hour'],
    ['200/3', 'cents', '- price = 200/3 cents ~ $0.6667'],
    ['-200/3', 'cents', '- price = -200/3 cents ~ -$0.6667'],
    ['100000000/1', 'cents', '- price = $1,000,000.00'],
  ] as const)('%s %s', (exact, unit, said) => {
    expect(word(exact, unit)).toEqual([said]);
  });
});

describe('why a line has its amount, in words', () => {
  const [option] = priced(workedInvoice({ rate: '0.0825', taxableClasses: ['part'] })).options;
  const whyOf = (kind: Line['kind']): Why => {
    const line = option?.lines.find((one) => one.kind === kind);
    if (line === undefined) throw new Error(`there is no ${kind}`);
    return line.why;
  };

  it('is an indented text that a pencil can follow', () => {
    expect(whyInWords(whyForCustomer(whyOf('labor')))).toEqual([
      '30 minutes / 60 x $151.00 an hour = $75.50.',
      '- minutes / 60 x rate x factor = $75.50, rounded half up to $75.50',
      '  - time of the price book: 30 minutes',
      '  - labor rate: $151.00 an hour',
    ]);
    expect(whyInWords(whyOf('tax'))).toEqual([
      '8.25% of $120.45 (parts) = $9.94.',
      '- tax on parts = $9.937125, rounded half up to $9.94',
      '  - taxed amount: $120.45',
      '  - tax rate: 0.0825 (8.25%)',
    ]);
  });

  it('shows the owner what it costs, below a heading of its own', () => {
    const part = whyOf('part');
    const said = whyInWords(part);
    expect(said.slice(0, said.indexOf('For the owner:'))).toEqual(whyInWords(whyForCustomer(part)));
    expect(said.join('\n')).toContain('$21.75');
  });
});

/** Every rounding of a tree, from the top down. */
function roundings(nodes: readonly WhyNode[]): { exact: string; cents: number }[] {
  return nodes.flatMap((node) => {
    if (node.node === 'input') return [];
    const beneath = roundings(node.from);
    return node.node === 'step' ? beneath : [{ exact: node.exact, cents: node.cents }, ...beneath];
  });
}

/** '-$1,234.56' -> -123456. */
function centsSaid(dollars: string): number {
  return Number(dollars.replace(/[$,.]/g, ''));
}

const ROUNDED = /, rounded half up to (-?\$[\d,]+\.\d\d)$/;
const NEAR = /(-?[\d,]+)\/([\d,]+) cents.* ~ (-?)\$([\d,]+)\.(\d{4})/;

describe('whatever is quoted', () => {
  const anyWhys = arbitraryInputs({ mistakes: false, adjustments: true }).map((json) => {
    const result = priceQuote(pricingInputsSchema.parse(json));
    if (result.outcome === 'refused') return [];
    const { options, decline, laborRateWhy } = result.quote;
    return [laborRateWhy, ...[decline, ...options].flatMap(({ lines }) => lines.map((l) => l.why))];
  });

  it('the words say every rounding that is stored, to the cent, and no other', () => {
    fc.assert(
      fc.property(anyWhys, (whys) => {
        for (const why of whys) {
          const said = whyInWords(why).flatMap((line) => ROUNDED.exec(line)?.[1] ?? []);
          const stored = roundings([...why.steps, ...why.owner]).map(({ cents }) => cents);
          expect(said.map(centsSaid)).toEqual(stored);
        }
      }),
    );
  });

  it('a decimal behind ~ is the nearest to its fraction', () => {
    let seen = 0;
    fc.assert(
      fc.property(anyWhys, (whys) => {
        for (const line of whys.flatMap(whyInWords)) {
          const [found, over, under, sign, dollars, digits] = NEAR.exec(line) ?? [];
          if (found === undefined) continue;
          seen += 1;
          const whole = (text = '') => BigInt(text.replaceAll(',', ''));
          const shown = whole(dollars) * 10_000n + whole(digits);
          // Ten-thousandths of a dollar are hundredths of a cent.
          const off = (sign === '-' ? -shown : shown) * whole(under) - whole(over) * 100n;
          expect(2n * (off < 0n ? -off : off)).toBeLessThanOrEqual(whole(under));
        }
      }),
    );
    expect(seen).toBeGreaterThan(10);
  });

  it('the customer’s words are the owner’s without what is for the owner', () => {
    fc.assert(
      fc.property(anyWhys, (whys) => {
        for (const why of whys) {
          const whole = whyInWords(why);
          const heading = whole.indexOf('For the owner:');
          const customers = heading < 0 ? whole : whole.slice(0, heading);
          expect(whyInWords(whyForCustomer(why))).toEqual(customers);
        }
      }),
    );
  });

  // Numbers that occur nowhere else in the quote, so that finding one means finding a cost.
  it.each([
    ['unit cost', '$18.40'],
    ['cost of two parts', '$36.80'],
    ['wage', '$81,330.44'],
    ['truck', '$14,000.00'],
    ['overhead', '$210,115.04'],
    ['margin', '0.15'],
    ['billable fraction', '0.60'],
    ['cost of an hour', '$128.35'],
  ])('the customer’s words never hold the %s, which the owner’s do', (_, figure) => {
    const base = workedInvoice({ rate: '0.0825', taxableClasses: ['part'] });
    const twice = capacitorWork({}).parts.map((part) => ({ ...part, quantity: 2 }));
    const quote = priced({
      ...base,
      options: [
        {
          title: 'Repair',
          work: [capacitorWork({ parts: twice, accessMinutes: 20 }), contactorWork({})],
          adjustments: [],
        },
      ],
    });
    const whys = [
      quote.laborRateWhy,
      ...[...quote.options, quote.decline].flatMap(({ lines }) => lines.map(({ why }) => why)),
    ];
    expect(whys.flatMap(whyInWords).join('\n')).toContain(figure);
    expect(whys.map(whyForCustomer).flatMap(whyInWords).join('\n')).not.toContain(figure);
  });
});
