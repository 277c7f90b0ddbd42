import { addCents, type Cents } from './cents.ts';
import { type Charge, netCents, type Unplaced } from './charge.ts';
import { taxKey } from './line-keys.ts';
import type { TaxRule } from './price-book.ts';
import type { Stated, TaxLine } from './priced-quote.ts';
import { multiply, ratioOf, wholeRatio } from './ratio.ts';
import { type RoundedTax, roundTaxes, type TaxableAmount } from './round-taxes.ts';
import type { GoodsShare, Statement } from './stated-as.ts';
import { type WhyNode, whyInput, whyRounding, whyStep } from './why.ts';
import { dollarsText, percentText } from './words.ts';

/**
 * The tax on charges, net of whatever is aimed at them: on the sum, rounded once (invoice basis),
 * or on each line, rounded line by line (item basis). A job stated as a lump sum carries no tax to
 * the customer, because the company pays it on its materials.
 */
export function taxCentsOn(charges: readonly Charge[], tax: TaxRule, stated: Stated): Cents {
  return addCents(roundedTaxes(charges, tax, stated).map(({ taxCents }) => taxCents));
}

/** How that tax is reckoned, one rounding for each amount that it falls on. */
export function taxSteps(charges: readonly Charge[], tax: TaxRule, stated: Stated): WhyNode[] {
  return roundedTaxes(charges, tax, stated).map((one) => taxStep(one, tax));
}

/** The tax as a line with its reasons; it stands on the paper even at zero. */
export function taxLine(
  charges: readonly Charge[],
  tax: TaxRule,
  { stated, goodsShare }: Statement,
): Unplaced<TaxLine> {
  const taxes = roundedTaxes(charges, tax, stated);
  const amountCents = addCents(taxes.map(({ taxCents }) => taxCents));
  const shareSteps = goodsShare === undefined ? [] : explainGoodsShare(goodsShare);
  const isSeparated = stated === 'separated';
  const because = isSeparated && goodsShare !== undefined ? separatedSentence(goodsShare) : '';
  return {
    key: taxKey,
    kind: 'tax',
    class: 'tax',
    code: 'tax',
    description: `${tax.name}, ${tax.jurisdiction}`,
    amountCents,
    why: {
      sentence: `${because}${taxSentence(taxes, amountCents, tax, stated)}`,
      // A lump-sum paper states no prices, so its share of goods is not for the customer either.
      steps: [...(isSeparated ? shareSteps : []), ...taxes.map((one) => taxStep(one, tax))],
      owner: isSeparated ? [] : shareSteps,
    },
  };
}

function roundedTaxes(charges: readonly Charge[], tax: TaxRule, stated: Stated): RoundedTax[] {
  return roundTaxes(charges.map(taxable), tax, stated);
}

function taxable(charge: Charge): TaxableAmount {
  return { on: charge.line.description, taxClass: charge.taxClass, netCents: netCents(charge) };
}

function taxStep({ on, baseCents, taxCents }: RoundedTax, tax: TaxRule): WhyNode {
  const exact = multiply(wholeRatio(baseCents), ratioOf(tax.rate));
  return whyRounding(`tax on ${on}`, exact, taxCents, [
    whyInput('taxed amount', baseCents, 'cents'),
    whyInput('tax rate', tax.rate, 'ratio'),
  ]);
}

function taxSentence(
  taxes: readonly RoundedTax[],
  amountCents: Cents,
  tax: TaxRule,
  stated: Stated,
): string {
  if (stated === 'lump_sum') return 'No tax is added: the job has one price for everything.';
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

function separatedSentence({ goodsCents, chargesCents, limit }: GoodsShare): string {
  const goods = `${dollarsText(goodsCents)} of ${dollarsText(chargesCents)}`;
  return `Parts, materials and equipment are ${goods}, more than ${percentText(limit)}, so prices and tax are stated separately. `;
}

function explainGoodsShare({ goodsCents, chargesCents, limit }: GoodsShare): WhyNode[] {
  const limitCents = multiply(wholeRatio(chargesCents), ratioOf(limit));
  return [
    whyInput('parts, materials and equipment before credit', goodsCents, 'cents'),
    whyStep('stated separately above', limitCents, 'cents', [
      whyInput('share of the charges', limit, 'ratio'),
      whyInput('all charges before credit', chargesCents, 'cents'),
    ]),
  ];
}
