import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { Prisma, PrismaClient } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { staffAccessSchema } from './contract.ts';

type StaffAccess = z.input<typeof staffAccessSchema>;

/** Whether one of the staff can sign in. */
export async function accessOf(tx: Tx, staffId: string, now: Date): Promise<StaffAccess> {
  const row = await tx.staff.findUnique({ where: { id: staffId }, select: columns(now) });
  if (row === null) throw notFound('person');
  return told(row);
}

/** Who can sign in and who cannot, those who have left among them, oldest first. */
export async function listAccess(
  prisma: PrismaClient,
  now: Date,
  page: { after: string | undefined; take: number },
): Promise<StaffAccess[]> {
  const rows = await prisma.staff.findMany({
    ...(page.after !== undefined && { where: { id: { gt: page.after } } }),
    orderBy: { id: 'asc' },
    take: page.take,
    select: columns(now),
  });
  return rows.map(told);
}

function columns(now: Date) {
  return {
    ...{ id: true, name: true, role: true, email: true, disabledAt: true },
    password: { select: { changedAt: true } },
    secondFactors: {
      where: { endedAt: null, confirmedAt: { not: null } },
      select: { id: true },
    },
    signInLinks: {
      where: { usedAt: null, revokedAt: null, expiresAt: { gt: now } },
      select: { expiresAt: true },
    },
  } satisfies Prisma.StaffSelect;
}

type Row = Prisma.StaffGetPayload<{ select: ReturnType<typeof columns> }>;

function told({ password, signInLinks, secondFactors, disabledAt, ...person }: Row): StaffAccess {
  return {
    ...person,
    hasPassword: password !== null,
    hasSecondFactor: secondFactors.length > 0,
    disabledAt: disabledAt?.toISOString() ?? null,
    linkOpensUntil: signInLinks[0]?.expiresAt.toISOString() ?? null,
  };
}
