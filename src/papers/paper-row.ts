import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';

/** What a paper tells of, as far as its name says it. */
export const tellsOf = {
  revision: { select: { number: true, quoteId: true } },
  acceptance: { select: { revision: true } },
  decline: { select: { revision: true } },
  closing: { select: { sequence: true } },
} as const satisfies Prisma.PaperInclude;

export type PaperRow = Prisma.PaperGetPayload<{ include: typeof tellsOf }>;

/** What the row of an answer's paper keeps of it. */
export type AnswerRow = { timeZone: string; recordedByName: string | null };

/** @throws Error for a paper of anything else */
export function answerRow({ id, timeZone, recordedByName }: PaperRow): AnswerRow {
  if (timeZone === null) throw new Error(`paper ${id} is not the paper of an answer`);
  return { timeZone, recordedByName };
}

/** @throws ProblemError 404 */
export async function paperRow(prisma: Pick<Tx, 'paper'>, id: string): Promise<PaperRow> {
  const row = await prisma.paper.findUnique({ where: { id }, include: tellsOf });
  if (row === null) throw notFound('paper');
  return row;
}

/** Which revision of the quote, or which closing of the ticket, from 1; none of papers about money. */
export function editionOf({ revision, acceptance, decline, closing }: PaperRow): number | null {
  return revision?.number ?? acceptance?.revision ?? decline?.revision ?? closing?.sequence ?? null;
}
