import type { Nameplate } from '../evidence.ts';
import type { Facts } from '../facts/admit-evidence.ts';
import type { LookedAt } from '../facts/looked-at.ts';
import type { Weighed } from '../verdicts/verdict.ts';
import type { CheckCode } from '../words/checks.ts';
import type { EquipmentKind } from '../words/equipment-kinds.ts';
import type { ObservationCode } from '../words/observations.ts';
import type { PartCategory } from '../words/parts.ts';
import type { SignClass, SignCode } from '../words/signs.ts';
import type { RestoringTask, TaskCode } from '../words/tasks.ts';
import type { PartOfSystem, RemedyClass } from './remedy-classes.ts';

/** What the trade knows of a fault, without its rules: plain data for the catalog. */
export type FaultWords = {
  name: string;
  /** For the customer, a person without training. */
  explanation: string;
  partOfSystem: PartOfSystem;
  /** The equipment this fault can be found on. */
  kinds: readonly EquipmentKind[];
  /** A dear part is sold on proof only, with its exclusions done. */
  dear: boolean;
  cautions: readonly string[];
  /** What must have been looked at before this fault may be blamed. */
  exclusions: readonly Exclusion[];
  remedies: readonly Remedy[];
} & (
  | { role: 'cause' }
  | {
      /** A state that something else brought about; putting it back mends nothing. */
      role: 'symptom';
      notTheCause: string;
      causeSearch: { lookFor: string; recordedBy: readonly LookedAt[] };
    }
);

export type Exclusion = { statement: string; doneWhen: readonly LookedAt[] };

/**
 * What may be done about a fault. The class follows from fault and task, never from a hand: a
 * task that restores cannot be written here with any class but reset, nor another task as reset.
 */
export type Remedy = {
  /** The least standing a finding must have for this task to be priced. */
  needs: 'supported' | 'proven';
  partCategories: readonly PartCategory[];
  /** The machines it can be done on, where those are fewer than its fault is found on. */
  kinds?: readonly EquipmentKind[];
} & (
  | { task: RestoringTask; remedyClass: 'reset' }
  | { task: Exclude<TaskCode, RestoringTask>; remedyClass: Exclude<RemedyClass, 'reset'> }
);

/**
 * What this fault makes likely, for ranking the next checks alone: how often an observation is then
 * answered yes, and how often a sign falls into a class. What is not named is as usual; what is left
 * of a sign's shares falls to its other classes as usual. Common practice, no source.
 */
export type Expectations = { readonly [Code in ObservationCode]?: number } & {
  readonly [Code in SignCode]?: { readonly [Class in SignClass<Code>]?: number };
};

export type Scene = { share: number; on?: 'outdoor' | 'indoor'; expects: Expectations };

export type Fault = FaultWords & {
  /** How many of a thousand no-cooling calls it is behind; common practice, no source. */
  perThousand: number;
  expects: Expectations;
  /**
   * Ways the same fault can look, where its signs go together: a float switch that breaks the call
   * leaves the thermostat lit, one that breaks its supply leaves everything dark. What `expects`
   * says holds in each; `share` says how often it is that way, `on` on which side of the system alone.
   */
  scenes?: readonly Scene[];
  /** The checks whose results together prove it, where it can be proven; else those that show most. */
  settledBy: readonly CheckCode[];
  rules: {
    /** Why the fault cannot be on equipment with this nameplate; undefined when it can. */
    unfit?: (nameplate: Nameplate) => string | undefined;
    criteria: (facts: Facts) => Weighed[];
  };
};
