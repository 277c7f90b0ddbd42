import {
  addCents,
  type Cents,
  cents,
  goodKey,
  type PricingInputs,
  partKey,
} from '../pricing/index.ts';
import { type PricedFrom, pricedAgain } from './priced-again.ts';

/** How much of a part or of measured goods went in, in the unit that it was sold by. */
export interface UsedGoods {
  /** Of the line that sells it. */
  readonly key: string;
  /** A decimal of at most what was sold, such as 2 or 2.5. */
  readonly quantity: string;
}

/**
 * By how much a line is dearer as sold than for what was used of it: it is priced again at that
 * quantity, by the same book and rules and with the discounts they give. What a person adjusted
 * stays out of it, for that was agreed to whatever the quantity.
 * @throws Error for a line that sells no goods
 */
export function notUsedCents(accepted: PricedFrom, used: UsedGoods): Cents {
  const inputs = withoutAdjustments(accepted.inputs);
  const asSold = grossOf({ ...accepted, inputs }, used.key);
  if (Number(used.quantity) === 0) return asSold;
  const less = { ...inputs, options: inputs.options.map((option) => ofQuantity(option, used)) };
  return cents(asSold - grossOf({ ...accepted, inputs: less }, used.key));
}

/** The line with the discounts on it. */
function grossOf(priced: PricedFrom, key: string): Cents {
  const { lines } = pricedAgain(priced).option;
  const own = lines.filter(
    (line) => line.key === key || ('aimedAt' in line && line.aimedAt === key),
  );
  if (own.length === 0) throw new Error(`no line ${key}`);
  return addCents(own.map(({ amountCents }) => amountCents));
}

function withoutAdjustments(inputs: PricingInputs): PricingInputs {
  return { ...inputs, options: inputs.options.map((each) => ({ ...each, adjustments: [] })) };
}

type Option = PricingInputs['options'][number];

function ofQuantity(option: Option, { key, quantity }: UsedGoods): Option {
  const work = option.work.map((item) => ({
    ...item,
    parts: item.parts.map((part) =>
      partKey(item, part) === key ? { ...part, quantity: Number(quantity) } : part,
    ),
    goods: item.goods?.map((good) => (goodKey(item, good) === key ? { ...good, quantity } : good)),
  }));
  return { ...option, work };
}
