import { dollarsText } from '../pricing/index.ts';
import type { RemedyClass } from '../trade/index.ts';
import type { MendedMachine, Repair, Replacement } from './facts.ts';
import { partCover } from './part-cover.ts';
import { refrigerantFacts, type SourcedFact } from './refrigerant-facts.ts';
import { type RuleOfThumb, rulesOfThumb } from './rules-of-thumb.ts';
import { typicalPriceCents } from './typical-price.ts';
import { type Warranty, warrantiesOf } from './warranties.ts';
import { wholeYears } from './whole-years.ts';

/** There is no third word: nothing here ever says to replace. */
export type RepairOrReplaceWord = 'repair' | 'repair_and_talk_about_replacing';

/** Why the word is what it is. */
export type RepairReason =
  | 'no_repair_in_it'
  | 'costs_little'
  | 'under_warranty'
  | 'warranty_not_recorded'
  | 'no_rule_of_money_holds'
  | 'rule_of_money_holds';

export interface RepairOrReplace {
  word: RepairOrReplaceWord;
  reason: RepairReason;
  /** For the customer; the repair always comes first. */
  sentence: string;
  ageYears: number | null;
  repairCents: number;
  typicalReplacementCents: number | null;
  warranties: { parts: Warranty | null; compressor: Warranty | null; labor: Warranty | null };
  refrigerant: SourcedFact[];
  rulesOfThumb: RuleOfThumb[];
}

/**
 * What is known about mending this machine or having a new one, and whether replacing is worth a
 * word beside the repair. It is so only where a rule of money holds (age times repair, or half the
 * price of a new machine), and never
 * - when nothing in it is a repair: what is reset, cleaned, adjusted, looked for or advised says
 *   nothing about how long the machine will last;
 * - when the repair costs little: at most 400 dollars for all of its work. The measure is that sum, not
 *   which part it is: a small bill on a very old machine passes age times repair by its age alone (25
 *   years times 230 dollars), and that is age deciding in disguise. 400 lies between the published
 *   350, which repairs, and 500, which talks. Common practice, no source;
 * - when the maker's warranty covers a part of it, or might: makers give 5 to 10 years, so on a
 *   machine that is no older, or of unknown age, an unrecorded warranty is looked up first;
 * - on age alone.
 * What is unknown therefore never speaks against the repair.
 */
export function repairOrReplace(
  machine: MendedMachine,
  repair: Repair,
  replacements: readonly Replacement[],
): RepairOrReplace {
  const ageYears = wholeYears(machine.installedOn, machine.today);
  const replacementCents = typicalPriceCents(machine, replacements);
  const { repairCents } = repair;
  const rules = rulesOfThumb({ ageYears, repairCents, replacementCents });
  const reason = reasonFor(machine, repair, ageYears, rules);
  return {
    word: reason === 'rule_of_money_holds' ? 'repair_and_talk_about_replacing' : 'repair',
    reason,
    sentence: sentenceFor(reason, rules),
    ageYears: ageYears ?? null,
    repairCents,
    typicalReplacementCents: replacementCents ?? null,
    warranties: warrantiesOf(machine),
    refrigerant: refrigerantFacts(machine.refrigerant),
    rulesOfThumb: rules,
  };
}

const littleCents = 40_000;
const longestUsualWarrantyYears = 10;
const noRepair: readonly RemedyClass[] = ['reset', 'clean', 'adjust', 'diagnose', 'advise'];

function reasonFor(
  machine: MendedMachine,
  { work, repairCents }: Repair,
  ageYears: number | undefined,
  rules: readonly RuleOfThumb[],
): RepairReason {
  if (work.every(({ remedyClass }) => noRepair.includes(remedyClass))) return 'no_repair_in_it';
  if (repairCents <= littleCents) return 'costs_little';
  const covers = work.flatMap(({ parts }) => parts.map((part) => partCover(part, machine)));
  if (covers.includes('covered')) return 'under_warranty';
  const mayStillRun = ageYears === undefined || ageYears <= longestUsualWarrantyYears;
  if (covers.includes('not_recorded') && mayStillRun) return 'warranty_not_recorded';
  return rules.some(isReasonToTalk) ? 'rule_of_money_holds' : 'no_rule_of_money_holds';
}

function isReasonToTalk({ decides, outcome }: RuleOfThumb): boolean {
  return decides && outcome === 'holds';
}

function sentenceFor(reason: RepairReason, rules: readonly RuleOfThumb[]): string {
  if (reason !== 'rule_of_money_holds') return `Repair: ${repairBecause[reason]}`;
  const figures = rules.filter(isReasonToTalk).map(({ sentence }) => sentence);
  return [
    'Repair: it mends what was found.',
    'By common practice it is also worth talking about a new machine before you choose:',
    ...figures,
    'That is a rule of thumb, not a finding; the choice is yours.',
  ].join(' ');
}

const repairBecause: Record<Exclude<RepairReason, 'rule_of_money_holds'>, string> = {
  no_repair_in_it:
    'what is reset, cleaned, adjusted, looked for or advised is no reason for a new machine.',
  costs_little: `it costs no more than ${dollarsText(littleCents)}.`,
  under_warranty: 'the maker’s warranty covers a part of it.',
  warranty_not_recorded:
    'the maker’s warranty may still cover a part of it and is not recorded; look it up first.',
  no_rule_of_money_holds: 'no rule of thumb about money speaks against it.',
};
