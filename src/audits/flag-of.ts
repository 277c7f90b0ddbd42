import { z } from 'zod';
import type { Correction } from '../auditing/index.ts';
import type { AuditFlagState } from '../lifecycles/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import { readCorrections } from './read-corrections.ts';

/** What is read with a flag. */
export const withAnswer = {
  ticket: { select: { number: true, judgement: { select: { endedAt: true } } } },
  state: true,
  answer: { include: { memos: { include: { memo: { select: memoFields() } } } } },
} as const satisfies Prisma.AuditFlagInclude;

type StoredFlag = Prisma.AuditFlagGetPayload<{ include: typeof withAnswer }>;

/** A flag with its state and its answer, if it has one. */
export interface WholeFlag extends Omit<StoredFlag, 'state' | 'sentences' | 'corrections'> {
  readonly state: { readonly state: AuditFlagState; readonly version: number };
  readonly sentences: readonly string[];
  readonly corrections: readonly Correction[];
}

/** @throws ProblemError 404 */
export async function flagOf(prisma: Pick<Tx, 'auditFlag'>, id: string): Promise<WholeFlag> {
  const stored = await prisma.auditFlag.findUnique({ where: { id }, include: withAnswer });
  if (stored === null) throw notFound('flag');
  return wholeFlag(stored);
}

/** A stored flag with its parts read back. */
export function wholeFlag({ state, sentences, corrections, ...rest }: StoredFlag): WholeFlag {
  if (state === null) throw new Error(`flag ${rest.id} has no state`);
  return {
    ...rest,
    state: { state: stateSchema.parse(state.state), version: state.version },
    sentences: z.array(z.string()).parse(sentences),
    corrections: readCorrections(corrections),
  };
}

function memoFields() {
  return { id: true, number: true, invoiceId: true, totalCents: true } as const;
}

const stateSchema = z.enum(['open', 'accepted', 'dismissed', 'gone']);
