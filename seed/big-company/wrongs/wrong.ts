import type { PricingInputs } from '../../../src/pricing/index.ts';
import type { Slot } from '../calendar.ts';
import type { Member } from '../company-plan.ts';
import type { Mended } from '../history.ts';
import type { MakeId } from '../make-ids.ts';
import type { Machine } from '../place.ts';
import type { YearBook } from '../price-books.ts';
import type { Random } from '../random.ts';
import type { Scenario } from '../scenarios.ts';
import type { Wants } from '../turns/turn-of.ts';
import type { TurnName } from '../turns/turned.ts';
import type { WrongKind, WrongShape } from './truth.ts';

/** A visit before anything of it is written, as far as a wrong asks about it. */
export interface Bendable {
  readonly scenario: Scenario;
  readonly outdoor: Machine;
  readonly indoor: Machine;
  readonly slot: Slot;
  readonly present: Date;
  /** Whether the life of the company takes uncommon turns, in which wrongs may hide. */
  readonly hasTurns: boolean;
  readonly technician: Member;
  readonly arrivesAbout: Date;
  /** Local day. */
  readonly day: string;
  /** What was mended at the system lately. */
  readonly known: readonly Mended[];
}

/** What somebody does otherwise than it should be done. */
export interface Acts {
  /** The finding itself is written down as mended, though it was only reset. */
  readonly callsItRepair?: true;
  /** What the evidence does not carry is sold, and the owner gave no reason. */
  readonly sellsUnproven?: true;
  readonly chargesFeeAgain?: true;
  /** The fee is left out of the quote that was agreed to, and billed by itself: nothing is credited. */
  readonly billsFeeApart?: true;
  readonly leavesPartsOut?: true;
  readonly weighsNothing?: true;
  readonly borrowsCertificate?: true;
  readonly worksFirst?: true;
  readonly cancels?: true;
  readonly readsLate?: true;
  readonly inventsReadings?: true;
}

/** One way to write a job wrongly, the way it would come about. */
export interface Wrong {
  readonly kind: WrongKind;
  /** In what it hides, where that is not an ordinary visit. */
  readonly shape?: WrongShape;
  /** The turn that the visit takes for it, and what is found besides then. */
  readonly turn?: TurnName;
  readonly wants?: Wants;
  /** Which of the documents it bends; the first when absent. */
  readonly on?: 'further';
  /** How the visit goes for it; undefined where it does not lend itself to it. */
  scenarioFor(job: Bendable): Scenario | undefined;
  /** What the price is computed from, instead of what it should be. */
  bendPrice?(inputs: PricingInputs, by: Means): PricingInputs;
  /** Of which charges the bent price is too dear, where it is of one class alone. */
  readonly bendsClass?: 'labor' | 'part';
  /** The inputs that should have been are what is stored beside the wrong price. */
  readonly keepsInputs?: true;
  readonly acts?: Acts;
  /** What was owed is the fee alone: the work should never have been sold. */
  readonly onlyFeeOwed?: true;
}

/** Chance and identifiers of the ticket, for what is made up, and the fee that was told. */
export interface Means {
  readonly random: Random;
  readonly makeId: MakeId;
  readonly at: Date;
  readonly feeCents: number;
  readonly periods: YearBook['periods'];
}

/** Which of the trips and documents of a ticket something is of. */
export type Wronged = 'first' | 'further' | 'callback';

/** What is done wrongly at one of them. */
export function actsOn(wrong: Wrong | undefined, of: Wronged): Acts {
  return wrong !== undefined && (wrong.on ?? 'first') === of ? (wrong.acts ?? {}) : {};
}

/** Whether it is a wrong by its records alone, whatever was charged. */
export function bendsRecords({ acts = {} }: Wrong): boolean {
  const { worksFirst, weighsNothing, borrowsCertificate, cancels, readsLate } = acts;
  const kept = [worksFirst, weighsNothing, borrowsCertificate, cancels, readsLate];
  return kept.includes(true) || acts.inventsReadings === true;
}
