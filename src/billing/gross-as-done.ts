import {
  addCents,
  type Cents,
  goodKey,
  type OptionInputs,
  type PricingInputs,
  partKey,
  type WorkItem,
} from '../pricing/index.ts';
import { type PricedFrom, pricedAgain } from './priced-again.ts';

/** How much of a part or of measured goods went in, in the unit that it was sold by. */
export interface UsedGoods {
  /** Of the line that sells it. */
  readonly key: string;
  /** A decimal of at most what was sold, such as 2 or 2.5. */
  readonly quantity: string;
}

/** What became of the accepted work, as far as it is less than was sold. */
export interface WorkDone {
  readonly undoneFindingIds: readonly string[];
  /** Of parts and goods; one that is not named was used as sold. */
  readonly used: readonly UsedGoods[];
}

/**
 * What the charges of an accepted option come to, with the discounts that rules give, when only
 * what was done is priced: by the same book and rules, by the key of the charge. What a person
 * adjusted stays out of it, for that was agreed to whatever was done.
 */
export function grossAsDone(accepted: PricedFrom, done: WorkDone): ReadonlyMap<string, Cents> {
  const option = accepted.inputs.options[accepted.optionAt];
  const work = (option?.work ?? []).filter((item) => !isUndone(item, done)).map(asUsed(done));
  if (option === undefined || work.length === 0) return new Map();
  const inputs: PricingInputs = {
    ...accepted.inputs,
    options: [{ ...option, work, adjustments: [] }],
  };
  const { lines } = pricedAgain({ ...accepted, inputs, optionAt: 0 }).option;
  const charges = lines.filter((line) => !('aimedAt' in line));
  return new Map(charges.map(({ key }) => [key, grossOf(lines, key)]));
}

/** A line with the discounts on it. */
export function grossOf(
  lines: readonly { key: string; kind: string; aimedAt?: string | null; amountCents: Cents }[],
  key: string,
): Cents {
  const own = lines.filter(
    (line) => line.key === key || (line.kind === 'discount' && line.aimedAt === key),
  );
  return addCents(own.map(({ amountCents }) => amountCents));
}

function isUndone({ findingId, alsoFindingIds = [] }: WorkItem, done: WorkDone): boolean {
  return [findingId, ...alsoFindingIds].every((id) => done.undoneFindingIds.includes(id));
}

type Item = OptionInputs['work'][number];

/** The same task with what went in; what did not go in at all is not there. */
function asUsed({ used }: WorkDone): (item: Item) => Item {
  const of = <Goods extends { quantity: number | string }>(goods: Goods, key: string): Goods[] => {
    const quantity = used.find((each) => each.key === key)?.quantity;
    if (quantity === undefined) return [goods];
    if (Number(quantity) === 0) return [];
    const isCounted = typeof goods.quantity === 'number';
    return [{ ...goods, quantity: isCounted ? Number(quantity) : quantity }];
  };
  return (item) => ({
    ...item,
    parts: item.parts.flatMap((part) => of(part, partKey(item, part))),
    goods: item.goods?.flatMap((good) => of(good, goodKey(item, good))),
  });
}
