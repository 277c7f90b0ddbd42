import type { Cents } from './cents.ts';
import type { GoodsUnit } from './price-book.ts';
import type { Ratio } from './ratio.ts';

/**
 * Why a line has its amount. `sentence` and `steps` are for the customer and hold no cost;
 * everything that shows what the company pays stands in `owner`, so that one part can be left out
 * without looking into the other.
 */
export interface Why {
  /** One plain line that a person with a pencil can follow. */
  readonly sentence: string;
  readonly steps: readonly WhyNode[];
  readonly owner: readonly WhyNode[];
}

/** A tree: a step or a rounding stands on the nodes in `from`; an input is a leaf. */
export type WhyNode = WhyInput | WhyStep | WhyRounding;

export interface WhyInput {
  readonly node: 'input';
  readonly name: string;
  /** Digits, as the input was given. */
  readonly value: string;
  readonly unit: WhyUnit;
}

export interface WhyStep {
  readonly node: 'step';
  readonly name: string;
  /** The unrounded result as an unreduced fraction: '679500/60'. */
  readonly exact: string;
  readonly unit: WhyUnit;
  readonly from: readonly WhyNode[];
}

export interface WhyRounding {
  readonly node: 'rounding';
  readonly name: string;
  readonly rule: 'half_up_to_cent';
  readonly exact: string;
  readonly cents: Cents;
  readonly from: readonly WhyNode[];
}

export type WhyUnit =
  | 'cents'
  | 'cents_per_hour'
  | 'minutes'
  | 'hours'
  | 'count'
  | 'ratio'
  /** UCUM, for goods that are measured. */
  | GoodsUnit;

export function whyInput(name: string, value: string | number, unit: WhyUnit): WhyInput {
  return { node: 'input', name, value: String(value), unit };
}

export function whyStep(
  name: string,
  exact: Ratio,
  unit: WhyUnit,
  from: readonly WhyNode[],
): WhyStep {
  return { node: 'step', name, exact: fractionText(exact), unit, from };
}

export function whyRounding(
  name: string,
  exact: Ratio,
  rounded: Cents,
  from: readonly WhyNode[],
): WhyRounding {
  return {
    node: 'rounding',
    name,
    rule: 'half_up_to_cent',
    exact: fractionText(exact),
    cents: rounded,
    from,
  };
}

function fractionText({ numerator, denominator }: Ratio): string {
  return `${numerator}/${denominator}`;
}
