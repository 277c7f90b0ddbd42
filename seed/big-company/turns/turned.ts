import type { Machine } from '../place.ts';
import type { Scenario } from '../scenarios.ts';

/** The uncommon but honest ways in which a visited ticket goes. */
export const turns = [
  /** Something else is found after the yes, and agreed to as a change order. */
  'change_order',
  /** What was put back on goes off again at the same visit; its cause is looked for free. */
  'mended_again',
  /** Whoever was there comes back on the same day for something else: one fee. */
  'same_trip',
  /** Nothing is agreed to at the first trip; another is called for, with a fee of its own. */
  'two_calls',
  /** The price is changed by hand within the band, or by the owner beyond it. */
  'adjusted',
  /** Some of the bill is given back as goodwill. */
  'goodwill',
  /** The tax was wrong, and was put right by a memo. */
  'tax_put_right',
] as const;
export type TurnName = (typeof turns)[number];

/** A turn with what is found besides. */
export interface Turned {
  readonly name: TurnName;
  readonly further?: Further;
}

export interface Further {
  readonly scenario: Scenario;
  readonly machine: Machine;
}
