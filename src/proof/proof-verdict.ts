import type { PaperLanguage } from '../documents/index.ts';
import type { Overlay } from './read-seen-file.ts';

/** What can be said of a file that is shown as a paper of ours. */
export type ProofVerdict =
  /** Byte for byte the file that its signed data draw. */
  | { verdict: 'genuine'; paper: ProvenPaper }
  /** Pages and data are the signed ones; the file is not packed as today's release packs it. */
  | { verdict: 'same_pages'; paper: ProvenPaper }
  /** The data are the signed ones; of the pages no certain word can be said, for or against. */
  | { verdict: 'unsure'; paper: ProvenPaper; cause: UnsureCause; differences: Differences }
  /** Page or data are not what was signed. */
  | {
      verdict: 'altered';
      paper: ProvenPaper;
      signature: 'good' | 'bad';
      differences: Differences;
    }
  /** Signed, but with none of the published keys: by a stranger, or the keys at hand are old. */
  | { verdict: 'unknown_key'; kid: string }
  /** No signed data of ours are in the file. */
  | { verdict: 'not_ours' }
  | { verdict: 'unreadable'; cause: UnreadableCause };

/** What the signed data call themselves. Only as good as the verdict it comes with. */
export interface ProvenPaper {
  kind: string;
  number: string;
  language: PaperLanguage;
  renderer: string;
  /** Where anyone can look up what was issued and what became of it. */
  pageUrl?: string | undefined;
  /** Under which that stands there. */
  contentHash?: string | undefined;
  kid: string;
}

/** The file was saved by another program, or also drawn by a release whose wording may differ. */
export type UnsureCause = 'saved_again' | 'earlier_release';

export type UnreadableCause = 'not_a_pdf' | 'locked' | 'damaged' | 'too_large' | 'too_much_work';

export interface Differences {
  /** The most telling ones first: amounts, then other figures, then words, then the rest. */
  told: readonly Difference[];
  /** How many more there are. */
  untold: number;
}

/** One thing that the file shows and its data do not, or the other way round. */
export type Difference =
  /** `says` or `signed` is empty where the one has words and the other none. */
  | { kind: 'words'; page: number; says: string; signed: string }
  | { kind: 'page_added'; page: number }
  | { kind: 'page_missing'; page: number }
  | { kind: 'page_order' }
  | { kind: 'page_shape'; page: number }
  | { kind: 'drawing'; page: number }
  | { kind: 'overlay'; page: number; overlay: Overlay }
  | { kind: 'script' }
  | { kind: 'locked' }
  | { kind: 'title'; says: string; signed: string }
  | { kind: 'attachment_added'; name: string }
  | { kind: 'appended' }
  | { kind: 'undrawable' };
