import type { z } from 'zod';
import type { Actor } from '../platform/access/actor.ts';
import type { PrismaClient } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { sessionSchema } from './contract.ts';

/** A session as it is told to whoever it is. */
export type OwnSession = z.input<typeof sessionSchema>;

/** Who asks, when, and where it is looked up. */
export interface Asking {
  prisma: Pick<PrismaClient, 'staffSession'>;
  actor: Actor;
  now: Date;
}

/** Where somebody is signed in, the newest first. */
export async function listOwnSessions(
  { prisma, actor, now }: Asking,
  page: { after?: string | undefined; take: number },
): Promise<OwnSession[]> {
  const rows = await prisma.staffSession.findMany({
    where: {
      ...openOf(actor, now),
      ...(page.after !== undefined && { id: { lt: page.after } }),
    },
    orderBy: { id: 'desc' },
    take: page.take,
    select: columns,
  });
  return rows.map((row) => told(row, actor));
}

/**
 * One of the sessions of whoever asks that still opens something.
 * @throws ProblemError 404 for one that is over, somebody else's or none at all: which, nobody learns
 */
export async function readOwnSession(
  { prisma, actor, now }: Asking,
  sessionId: string,
): Promise<OwnSession> {
  const row = await prisma.staffSession.findFirst({
    where: { ...openOf(actor, now), id: sessionId },
    select: columns,
  });
  if (row === null) throw notFound('session');
  return told(row, actor);
}

function openOf({ id: staffId }: Actor, now: Date) {
  return { staffId, endedAt: null, expiresAt: { gt: now }, idleUntil: { gt: now } };
}

const columns = {
  ...{ id: true, carrier: true, program: true, startedAt: true, usedAt: true },
  ...{ expiresAt: true, idleUntil: true, idleSeconds: true },
} as const;

interface Row {
  id: string;
  carrier: string;
  program: string | null;
  startedAt: Date;
  usedAt: Date | null;
  expiresAt: Date;
  idleUntil: Date;
  idleSeconds: number;
}

function told(row: Row, actor: Actor): OwnSession {
  // Of one that began before its use was written down, what its end tells of that.
  const usedAt = row.usedAt ?? new Date(row.idleUntil.getTime() - row.idleSeconds * 1_000);
  return {
    id: row.id,
    carrier: row.carrier === 'cookie' ? 'cookie' : 'bearer',
    program: row.program,
    startedAt: row.startedAt.toISOString(),
    lastUsedAt: usedAt.toISOString(),
    endsUnusedAt: row.idleUntil.toISOString(),
    expiresAt: row.expiresAt.toISOString(),
    isThisOne: row.id === actor.sessionId,
  };
}
