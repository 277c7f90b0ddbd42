import type { z } from 'zod';
import { takingsOf } from '../billing/index.ts';
import { companyOf, localDay, localDays } from '../company/index.ts';
import { moneyMethodSchema, type takingsSchema } from './contract.ts';
import type { Store } from './store.ts';

/** Money as it was written down, and by whom. */
interface WrittenDown {
  method: string;
  recordedById: string;
  amountCents: number;
}

/**
 * What came in on a local day, by method and by who took it, less the payments that were voided and
 * what was given back on that day: today unless asked.
 */
export async function takings(
  { prisma }: Pick<Store, 'prisma'>,
  asked: string | undefined,
  now: Date,
): Promise<z.input<typeof takingsSchema>> {
  const { timeZone } = await companyOf(prisma);
  const day = asked ?? localDay(now, timeZone);
  const { from, to } = localDays(day, day, timeZone);
  const within = { gte: from, lt: to };
  const select = { method: true, recordedById: true, amountCents: true } as const;
  const payments = await prisma.payment.findMany({ where: { receivedAt: within }, select });
  const refunds = await prisma.refund.findMany({ where: { paidAt: within }, select });
  const voided = await prisma.paymentVoid.findMany({
    where: { voidedAt: within },
    select: { payment: { select } },
  });
  const voids = voided.map(({ payment }) => payment);
  const takenBy = (staffId?: string) => {
    const own = (rows: readonly WrittenDown[]) =>
      rows
        .filter(({ recordedById }) => staffId === undefined || recordedById === staffId)
        .map(taking);
    return takingsOf({ payments: own(payments), voids: own(voids), refunds: own(refunds) });
  };
  const staffIds = new Set([...payments, ...voids, ...refunds].map((row) => row.recordedById));
  const staff = await prisma.staff.findMany({
    where: { id: { in: [...staffIds] } },
    select: { id: true, name: true },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  });
  return {
    day,
    ...takenBy(),
    byStaff: staff.map(({ id, name }) => ({ staffId: id, staffName: name, ...takenBy(id) })),
  };
}

function taking({ method, amountCents }: WrittenDown) {
  return { method: moneyMethodSchema.parse(method), amountCents };
}
