import { dollarsText } from '../pricing/index.ts';
import type { RepairOrReplace } from './repair-or-replace.ts';
import type { RuleOfThumb } from './rules-of-thumb.ts';

/**
 * The sentence that speaks of a new machine beside the repair, in Spanish and with the figures of the
 * rules that hold. Only for a machine of which the word is to talk about it.
 */
export function talkInSpanish({ rulesOfThumb }: Pick<RepairOrReplace, 'rulesOfThumb'>): string {
  const holding = rulesOfThumb.filter(({ decides, outcome }) => decides && outcome === 'holds');
  return [
    'Reparación: arregla lo que se encontró.',
    'Por costumbre del oficio también vale la pena hablar de un equipo nuevo antes de elegir:',
    ...holding.map((rule) => figures[rule.code](rule)),
    'Es una regla práctica, no un hallazgo; usted decide.',
  ].join(' ');
}

const figures: Record<RuleOfThumb['code'], (rule: RuleOfThumb) => string> = {
  age_times_repair: ({ ageYears, repairCents, threshold }) => {
    const product = dollars((ageYears ?? 0) * (repairCents ?? 0));
    return `${years(ageYears)} por ${dollars(repairCents)} son ${product}, más de ${dollars(threshold.value)}.`;
  },
  half_of_replacement: (rule) => shareOfNew('la mitad', rule),
  third_of_replacement: (rule) => shareOfNew('un tercio', rule),
  age_alone: ({ ageYears, threshold }) =>
    `Tiene ${years(ageYears)}, más de ${threshold.value}. La edad sola no decide nada.`,
};

function shareOfNew(share: string, { repairCents, replacementCents }: RuleOfThumb): string {
  return `${dollars(repairCents)} es más de ${share} de lo que suele costar un equipo nuevo, ${dollars(replacementCents)}.`;
}

function years(count: number | null): string {
  return count === 1 ? '1 año' : `${count} años`;
}

function dollars(amountCents: number | null): string {
  return dollarsText(amountCents ?? 0);
}
