import type { PaperKind, PaperLanguage } from '../documents/index.ts';
import type { Difference, UnreadableCause, UnsureCause } from './proof-verdict.ts';
import type { Overlay } from './read-seen-file.ts';
import { spanishProofWords } from './spanish-proof-words.ts';

/** Every word of a verdict. */
export interface ProofWords {
  paper: (kind: string, number: string) => string;
  genuine: (paper: string) => string;
  genuineMeaning: string;
  samePages: (paper: string) => string;
  samePagesMeaning: string;
  unsure: (paper: string) => string;
  unsureMeaning: Record<UnsureCause, string>;
  altered: string;
  alteredMeaning: (signature: 'good' | 'bad', paper: string) => string;
  /** Of data whose signature fails, nobody can say that they were signed. */
  signedData: string;
  attachedData: string;
  dataChanged: string;
  unknownKey: string;
  unknownKeyMeaning: string;
  notOurs: string;
  notOursMeaning: string;
  unreadable: string;
  unreadableMeaning: Record<UnreadableCause, string>;
  difference: (difference: Difference) => string;
  more: (count: number) => string;
  /** A genuine paper may have been replaced since; the paper itself cannot know. */
  stillStands: (pageUrl: string) => string;
}

export const proofWords: Record<PaperLanguage, ProofWords> = {
  en: {
    paper: (kind, number) => `${KINDS[kind] ?? 'paper'} ${number}`,
    genuine: (paper) => `Genuine: this is our ${paper}.`,
    genuineMeaning: 'It is to the last byte the file that we made and signed.',
    samePages: (paper) => `The pages are our ${paper}. The file is not packed as we pack it today.`,
    samePagesMeaning:
      'Every page that we read in it, and the data inside, is what we signed. Another program has saved the file, or ours made it in an earlier release or on another kind of machine. If anything in it surprises you, ask for the file as we sent it.',
    unsure: (paper) => `We cannot tell for sure. The data inside is our ${paper}.`,
    unsureMeaning: {
      saved_again:
        'We read the same words in it as in the signed data, but another program has saved the file. Ask for the file as we sent it.',
      earlier_release:
        'The file was drawn by an earlier release of our program and saved by another program since. Differences in wording may be ours. Ask for the file as we sent it.',
    },
    altered: 'Altered: this is not the paper as we signed it.',
    alteredMeaning: (signature, paper) =>
      signature === 'good'
        ? `The signed data inside is our ${paper} and is whole. The file around it was changed. Ask for the file as we sent it.`
        : 'The signature does not fit the data inside. Do not rely on this paper.',
    signedData: 'the signed data',
    attachedData: 'the data inside',
    dataChanged:
      'The pages and the data inside agree with each other but not with the signature. Both were changed after we signed, or the signature was.',
    unknownKey: 'Not signed by us, as far as these keys can tell.',
    unknownKeyMeaning:
      'The paper carries a signature, but none of the published keys made it. Do not rely on it; ask us.',
    notOurs: 'We cannot tell: there is no signed data of ours in this file.',
    notOursMeaning:
      'Printing, scanning or saving as a picture loses it. Ask for the file as we sent it, or look the paper up by its fingerprint.',
    unreadable: 'We cannot tell: the file cannot be read.',
    unreadableMeaning: {
      not_a_pdf: 'It is not a PDF file.',
      locked: 'It is locked with a password. Our papers never are.',
      damaged: 'It is damaged. Ask for the file as we sent it.',
      too_large: 'It is larger than any paper of ours.',
      too_much_work: 'Reading it takes more time or memory than any paper of ours.',
    },
    difference: tellDifference,
    more: (count) => (count === 1 ? 'One more difference.' : `${count} more differences.`),
    stillStands: (pageUrl) => `Whether it still stands is told at ${pageUrl}`,
  },
  es: spanishProofWords,
};

const KINDS: Readonly<Record<string, string>> = {
  quote: 'quote',
  acceptance: 'acceptance of quote',
  decline: 'paper on the declined quote',
  invoice: 'invoice',
  credit_memo: 'credit memo',
  work_record: 'record of job',
} satisfies Record<PaperKind, string>;

const OVERLAYS: Record<Overlay, string> = {
  field: 'a field to fill in',
  link: 'a link',
  note: 'a note, a stamp or a drawing',
};

function tellDifference(difference: Difference): string {
  switch (difference.kind) {
    case 'words':
      return tellWords(difference);
    case 'page_added':
      return `Page ${difference.page} is not in the signed data.`;
    case 'page_missing':
      return `Page ${difference.page} of the signed data is missing.`;
    case 'page_order':
      return 'The pages stand in another order than in the signed data.';
    case 'page_shape':
      return `Page ${difference.page} was cropped, turned or made another size.`;
    case 'drawing':
      return `Page ${difference.page} has the same words but is drawn otherwise than the signed data draws it: something may have been moved, covered or added.`;
    case 'overlay':
      return `On page ${difference.page} lies ${OVERLAYS[difference.overlay]} that we did not put there.`;
    case 'script':
      return 'Opening the file starts something. Our papers never do.';
    case 'locked':
      return 'The file was locked after we made it.';
    case 'title':
      return `The file is titled "${difference.says}"; the signed data says "${difference.signed}".`;
    case 'attachment_added':
      return `The file "${difference.name}" was attached to it, not by us.`;
    case 'appended':
      return 'Something was added to the end of the file after it was finished.';
    case 'undrawable':
      return 'No paper can be drawn from the data inside.';
  }
}

function tellWords({ page, says, signed }: Extract<Difference, { kind: 'words' }>): string {
  if (signed === '') return `Page ${page} says ${says}; the signed data does not.`;
  if (says === '') return `Page ${page} does not say ${signed}; the signed data does.`;
  return `Page ${page} says ${says}; the signed data says ${signed}.`;
}
