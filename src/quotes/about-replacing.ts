import type { PaperLanguage, PaperLegalText } from '../documents/index.ts';
import { talkInSpanish } from '../repair-or-replace/index.ts';
import type { OptionFacts } from './repair-or-replace-of.ts';

/**
 * The block of a paper that speaks of a new machine beside the repair: one, or none where nothing
 * speaks for a word about it. Where an option mends several machines no figure of one is printed,
 * because a lump-sum paper shows no price but the whole.
 */
export function aboutReplacing(
  options: readonly OptionFacts[],
  language: PaperLanguage = 'en',
): PaperLegalText[] {
  const { title, talk, withoutFigures } = texts[language];
  const sentences = options.flatMap(({ machines }) => {
    const talks = machines.find(({ word }) => word === 'repair_and_talk_about_replacing');
    if (talks === undefined) return [];
    return [machines.length === 1 ? talk(talks) : withoutFigures];
  });
  if (sentences.length === 0) return [];
  return [{ title, text: distinct(sentences) }];
}

function distinct(sentences: readonly string[]): string {
  return [...new Set(sentences)].join(' ');
}

interface Texts {
  title: string;
  talk: (machine: OptionFacts['machines'][number]) => string;
  withoutFigures: string;
}

const texts: Record<PaperLanguage, Texts> = {
  en: {
    title: 'Repair, and a word about a new machine',
    talk: ({ sentence }) => sentence,
    withoutFigures:
      'Repair: it mends what was found. By common practice it is also worth talking about a new machine in place of one of these before you choose; ask us for the figures. That is a rule of thumb, not a finding; the choice is yours.',
  },
  es: {
    title: 'Reparar, o pensar en un equipo nuevo',
    talk: talkInSpanish,
    withoutFigures:
      'Reparación: arregla lo que se encontró. Por costumbre del oficio, antes de elegir también vale la pena hablar de cambiar uno de estos equipos por uno nuevo; pídanos las cifras. Es una regla práctica, no un hallazgo; usted decide.',
  },
};
