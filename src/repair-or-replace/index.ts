export {
  type EquipmentCheck,
  equipmentChecks,
  equipmentStatement,
  type NewUnit,
} from './equipment-checks.ts';
export type { Day, MendedMachine, Repair, Replacement } from './facts.ts';
export { coveredUntil, partCover } from './part-cover.ts';
export type { SourcedFact } from './refrigerant-facts.ts';
export {
  type RepairOrReplace,
  type RepairOrReplaceWord,
  type RepairReason,
  repairOrReplace,
} from './repair-or-replace.ts';
export type { RuleOfThumb } from './rules-of-thumb.ts';
export { talkInSpanish } from './talk-in-spanish.ts';
export type { Warranty } from './warranties.ts';
