import type { Truth } from './truths.ts';
import type { MachineId, VisitSheet } from './visit-sheet.ts';

/**
 * An invented call. `truth` is why the house does not get cool; `provable` is false where the
 * figures lie so close to a limit that an honest method leaves it open, where the truth is nothing
 * that the list knows, and where a switch itself failed: it is never proven, only tried with another.
 * `twist` says what makes the call harder than its truth alone.
 */
export type Visit = {
  name: string;
  complaint: string;
  call: 'no_cooling' | 'poor_cooling';
  truth: Truth | 'something_else';
  onMachine: MachineId;
  provable: boolean;
  twist: 'plain' | 'misleading' | 'two_weak' | 'at_limit';
  story: string;
  sheet: VisitSheet;
};
