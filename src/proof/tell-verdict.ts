import type { PaperLanguage } from '../documents/index.ts';
import type { Difference, ProofVerdict, ProvenPaper } from './proof-verdict.ts';
import { type ProofWords, proofWords } from './proof-words.ts';
import { quotable } from './quotable.ts';

/** A verdict in words that a customer understands. */
export interface ToldVerdict {
  /** One short sentence: what the paper is worth. */
  headline: string;
  /** What was looked at, and what follows from it. */
  meaning: string;
  /** Each thing that differs, the most telling first. */
  differences: readonly string[];
  /** Where to ask whether the paper still stands, if its data are ours. */
  stillStands: string | undefined;
}

/**
 * Puts a verdict into plain words. What it quotes comes from a stranger's file, and even what the
 * data call themselves is the stranger's while their signature is bad: all of it is made harmless.
 */
export function tellVerdict(verdict: ProofVerdict, language: PaperLanguage): ToldVerdict {
  const words = proofWords[language];
  const isOurs = 'paper' in verdict && !('signature' in verdict && verdict.signature === 'bad');
  const pageUrl = isOurs ? verdict.paper.pageUrl : undefined;
  return {
    ...tell(verdict, words),
    stillStands: pageUrl && words.stillStands(quotable(pageUrl)),
  };
}

type Told = Omit<ToldVerdict, 'stillStands'>;

function tell(verdict: ProofVerdict, words: ProofWords): Told {
  switch (verdict.verdict) {
    case 'genuine':
      return plain(words.genuine(named(verdict.paper, words)), words.genuineMeaning);
    case 'same_pages':
      return plain(words.samePages(named(verdict.paper, words)), words.samePagesMeaning);
    case 'unsure':
      return {
        headline: words.unsure(named(verdict.paper, words)),
        meaning: words.unsureMeaning[verdict.cause],
        differences: tellDifferences(verdict.differences, words),
      };
    case 'altered':
      return {
        headline: words.altered,
        meaning: words.alteredMeaning(verdict.signature, named(verdict.paper, words)),
        differences: tellAltered(verdict, words),
      };
    case 'unknown_key':
      return plain(words.unknownKey, words.unknownKeyMeaning);
    case 'not_ours':
      return plain(words.notOurs, words.notOursMeaning);
    case 'unreadable':
      return plain(words.unreadable, words.unreadableMeaning[verdict.cause]);
  }
}

function named({ kind, number }: ProvenPaper, words: ProofWords): string {
  return words.paper(kind, quotable(number));
}

function plain(headline: string, meaning: string): Told {
  return { headline, meaning, differences: [] };
}

function tellAltered(
  { signature, differences }: Extract<ProofVerdict, { verdict: 'altered' }>,
  words: ProofWords,
): string[] {
  // Page and data agree with each other, and yet the data are not those that were signed.
  if (signature === 'bad' && differences.told.length === 0) return [words.dataChanged];
  const told = tellDifferences(differences, words);
  if (signature === 'good') return told;
  return told.map((line) => line.replaceAll(words.signedData, words.attachedData));
}

function tellDifferences(
  { told, untold }: { told: readonly Difference[]; untold: number },
  words: ProofWords,
): string[] {
  const lines = told.map((difference) => words.difference(quotableDifference(difference)));
  return untold === 0 ? lines : [...lines, words.more(untold)];
}

function quotableDifference(difference: Difference): Difference {
  switch (difference.kind) {
    case 'words':
    case 'title': {
      const { says, signed } = difference;
      return { ...difference, says: quotable(says), signed: quotable(signed) };
    }
    case 'attachment_added':
      return { ...difference, name: quotable(difference.name) };
    default:
      return difference;
  }
}
