import { addCents, type Cents } from './cents.ts';
import { type Charge, netCents, type Unplaced } from './charge.ts';
import { taxKey } from './line-keys.ts';
import type { TaxRule } from './price-book.ts';
import type { TaxLine } from './priced-quote.ts';
import { multiply, ratioOf, wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { type WhyNode, whyInput, whyRounding } from './why.ts';
import { chargeClassWords, dollarsText, percentText } from './words.ts';

/**
 * The tax on charges, net of whatever is aimed at them: on the sum, rounded once (invoice basis),
 * or on each line, rounded line by line (item basis). A lump-sum job carries no tax to the
 * customer, because the company pays it on its materials.
 */
export function taxCentsOn(charges: readonly Charge[], tax: TaxRule): Cents {
  return addCents(roundedTaxes(charges, tax).map(({ taxCents }) => taxCents));
}

/** The tax as a line with its reasons; it stands on the paper even at zero. */
export function taxLine(charges: readonly Charge[], tax: TaxRule): Unplaced<TaxLine> {
  const taxes = roundedTaxes(charges, tax);
  const amountCents = addCents(taxes.map(({ taxCents }) => taxCents));
  return {
    key: taxKey,
    kind: 'tax',
    class: 'tax',
    code: 'tax',
    description: `${tax.name}, ${tax.jurisdiction}`,
    amountCents,
    why: {
      sentence: taxSentence(taxes, amountCents, tax),
      steps: taxes.map((one) => taxStep(one, tax)),
      owner: [],
    },
  };
}

interface RoundedTax {
  readonly on: string;
  readonly baseCents: Cents;
  readonly taxCents: Cents;
}

function roundedTaxes(charges: readonly Charge[], tax: TaxRule): RoundedTax[] {
  if (tax.mode === 'lump_sum') return [];
  const taxed = charges.filter(({ line }) => tax.taxableClasses.includes(line.class));
  const bases =
    tax.basis === 'item'
      ? taxed.map((charge) => ({ on: charge.line.description, baseCents: netCents(charge) }))
      : [{ on: classWords(tax), baseCents: addCents(taxed.map(netCents)) }];
  const rate = ratioOf(tax.rate);
  return bases
    .filter(({ baseCents }) => baseCents !== 0)
    .map(({ on, baseCents }) => ({
      on,
      baseCents,
      taxCents: roundHalfUpToCents(multiply(wholeRatio(baseCents), rate)),
    }));
}

function taxStep({ on, baseCents, taxCents }: RoundedTax, tax: TaxRule): WhyNode {
  const exact = multiply(wholeRatio(baseCents), ratioOf(tax.rate));
  return whyRounding(`tax on ${on}`, exact, taxCents, [
    whyInput('taxed amount', baseCents, 'cents'),
    whyInput('tax rate', tax.rate, 'ratio'),
  ]);
}

function taxSentence(taxes: readonly RoundedTax[], amountCents: Cents, tax: TaxRule): string {
  if (tax.mode === 'lump_sum') return 'No tax is added: the job has one price for everything.';
  const [first] = taxes;
  if (first === undefined) return 'Nothing here is taxed.';
  const rate = percentText(tax.rate);
  const amount = dollarsText(amountCents);
  if (tax.basis === 'invoice') {
    return `${rate} of ${dollarsText(first.baseCents)} (${first.on}) = ${amount}.`;
  }
  const items = taxes.map(({ taxCents }) => dollarsText(taxCents)).join(' + ');
  return `${rate} of each taxed line, each rounded to the cent: ${items} = ${amount}.`;
}

/** In the order of the paper, however the rule lists them. */
function classWords(tax: TaxRule): string {
  return (['visit_fee', 'part', 'labor', 'access'] as const)
    .filter((chargeClass) => tax.taxableClasses.includes(chargeClass))
    .map((chargeClass) => chargeClassWords[chargeClass])
    .join(', ');
}
