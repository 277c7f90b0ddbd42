import type { Paper, PaperLanguage } from '../documents/index.ts';
import { contentOf } from './content-of.ts';
import { fileOf, type PaperContext, type StoredFile } from './file-of.ts';
import { paperRow } from './paper-row.ts';

/**
 * A paper with its file, in a language, or in English where it was issued in that alone.
 * @throws ProblemError 404 for a paper that is not there; 503 while too many papers are being drawn
 */
export async function readPaper(
  context: PaperContext,
  paperId: string,
  language: PaperLanguage,
): Promise<{ paper: Paper; file: StoredFile }> {
  const row = await paperRow(context.prisma, paperId);
  const wanted = await contentOf(context, row, language);
  const paper = wanted ?? (await contentOf(context, row, 'en'));
  if (paper === undefined) throw new Error(`paper ${paperId} says nothing`);
  const file = await fileOf(context, paperId, wanted === undefined ? 'en' : language);
  return { paper, file };
}
