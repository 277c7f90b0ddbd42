import {
  attachFiles,
  type Paper,
  type PaperLanguage,
  type PaperSheet,
  paperRenderer,
} from '../documents/index.ts';
import type { DrawnPages } from './draw-to-seal.ts';
import type { PaperKey } from './load-paper-key.ts';
import { dataNames, PAPER_FORMAT, type PaperData, writePaperData } from './paper-data.ts';
import { signDetached } from './sign-detached.ts';

export interface SealPaperOptions {
  paper: Paper;
  /** As printed on the paper. */
  number: string;
  language: PaperLanguage;
  /** Where anyone can look up what was issued. */
  pageUrl?: string | undefined;
  key: PaperKey;
  /** Turns a sheet into a file: the press, or `drawToSeal` itself. */
  draw: (sheet: PaperSheet) => Promise<DrawnPages>;
}

/** A paper with its own proof inside. */
export interface SealedPaper {
  /** What the file is made of: whoever draws it again gets the same bytes. */
  sheet: PaperSheet;
  bytes: Uint8Array;
}

/**
 * Draws a paper and puts its proof inside: its data, and a signature over them. What the pages look
 * like is signed as well; a later release, which draws otherwise, can then still tell whether a page
 * was touched. The pages are drawn once: the proof goes into the file that the digest was taken of.
 * @throws whatever `draw` throws
 */
export async function sealPaper(options: SealPaperOptions): Promise<SealedPaper> {
  const { paper, number, language, pageUrl, key, draw } = options;
  const { bytes: bare, pagesSha256 } = await draw({ paper, pageUrl, attachments: [] });
  const data = writePaperData({
    format: PAPER_FORMAT,
    version: 1,
    kind: paper.kind,
    number,
    language,
    renderer: paperRenderer,
    pageUrl,
    pagesSha256,
    paper: paper.paper,
  });
  const signature = new TextEncoder().encode(signDetached(data, key));
  const sheet = sealedSheet(
    { kind: paper.kind, number, pageUrl, paper: paper.paper },
    data,
    signature,
  );
  return { sheet, bytes: attachFiles(bare, sheet.attachments) };
}

/** The sheet that goes with data and a signature that already are: how a sealed paper is redrawn. */
export function sealedSheet(
  { kind, number, pageUrl, paper }: Pick<PaperData, 'kind' | 'number' | 'pageUrl' | 'paper'>,
  data: Uint8Array,
  signature: Uint8Array,
): PaperSheet {
  const names = dataNames(kind, number);
  return {
    // The shape is taken on trust: a second description of every kind would only disagree with
    // the first one day, and whoever draws a paper refuses what does not add up.
    paper: { kind, paper } as Paper,
    pageUrl,
    attachments: [
      {
        name: names.data,
        mediaType: 'application/json',
        description: 'The data this paper was made of',
        bytes: data,
        relationship: 'Data',
      },
      {
        name: names.signature,
        mediaType: 'application/jose',
        description: "The company's signature over the data",
        bytes: signature,
        relationship: 'Supplement',
      },
    ],
  };
}
