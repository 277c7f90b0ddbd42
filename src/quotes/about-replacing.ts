import type { PaperLegalText } from '../documents/index.ts';
import type { OptionFacts } from './repair-or-replace-of.ts';

/**
 * The block of a paper that speaks of a new machine beside the repair: one, or none where nothing
 * speaks for a word about it. Where an option mends several machines no figure of one is printed,
 * because a lump-sum paper shows no price but the whole.
 */
export function aboutReplacing(options: readonly OptionFacts[]): PaperLegalText[] {
  const sentences = options.flatMap(({ machines }) => {
    const talks = machines.find(({ word }) => word === 'repair_and_talk_about_replacing');
    if (talks === undefined) return [];
    return [machines.length === 1 ? talks.sentence : WITHOUT_FIGURES];
  });
  if (sentences.length === 0) return [];
  return [{ title: 'Repair, and a word about a new machine', text: distinct(sentences) }];
}

function distinct(sentences: readonly string[]): string {
  return [...new Set(sentences)].join(' ');
}

const WITHOUT_FIGURES =
  'Repair: it mends what was found. By common practice it is also worth talking about a new machine in place of one of these before you choose; ask us for the figures. That is a rule of thumb, not a finding; the choice is yours.';
