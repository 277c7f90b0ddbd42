import type {
  Cents,
  GoodsUnit,
  PartTiers,
  Policy,
  PricingInputs,
  RateInputs,
  TaxRule,
} from '../../pricing/index.ts';
import { cents } from '../../pricing/index.ts';
import type { Part, PartCategory } from '../../trade/index.ts';

/** A price book as far as the work of strangers is priced by it. */
export interface FairBook {
  readonly rates: RateInputs;
  readonly tiers: PartTiers;
  readonly policy: Policy;
  readonly tasks: ReadonlyMap<string, FairTask>;
  readonly parts: ReadonlyMap<string, FairPart>;
  /** The same parts by what they are, the dearest first. */
  readonly partsOf: ReadonlyMap<PartCategory, readonly FairPart[]>;
}

export interface FairTask {
  readonly code: string;
  readonly name: string;
  readonly minutes: number;
  readonly accessGroup: string;
  readonly accessMinutes: number;
}

export interface FairPart {
  readonly code: string;
  readonly name: string;
  /** Of one piece or, when measured, of one pack. */
  readonly costCents: Cents;
  readonly taxClass: TaxRule['taxableClasses'][number] & ('part' | 'material' | 'equipment');
  readonly measured?: { readonly unit: GoodsUnit; readonly packQuantity: string } | undefined;
  readonly fit: Part;
}

/** The period of the fee schedule in which somebody came. */
export type FairPeriod = PricingInputs['period'] & {
  readonly visitFeeCents: number;
};

/** A price book's content with its lists at hand. */
export function fairBookOf({
  rates,
  tiers,
  policy,
  tasks,
  parts,
}: Pick<FairBook, 'rates' | 'tiers' | 'policy'> & {
  readonly tasks: readonly FairTask[];
  readonly parts: readonly (Omit<FairPart, 'costCents'> & { readonly costCents: number })[];
}): FairBook {
  const listed = parts.map((part) => ({ ...part, costCents: cents(part.costCents) }));
  const partsOf = new Map<PartCategory, FairPart[]>();
  for (const part of listed.toSorted(dearestFirst)) {
    const others = partsOf.get(part.fit.category);
    if (others === undefined) partsOf.set(part.fit.category, [part]);
    else others.push(part);
  }
  return {
    rates,
    tiers,
    policy,
    tasks: new Map(tasks.map((task) => [task.code, task])),
    parts: new Map(listed.map((part) => [part.code, part])),
    partsOf,
  };
}

/** Of two that cost the same the first by code, so that the order of a book changes nothing. */
function dearestFirst(a: FairPart, b: FairPart): number {
  if (a.costCents !== b.costCents) return b.costCents - a.costCents;
  return a.code < b.code ? -1 : 1;
}
