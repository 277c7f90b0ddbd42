import type { z } from 'zod';
import { agreementAt } from '../agreements/index.ts';
import { companyOf, localDay } from '../company/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { recentWorkOf } from '../tickets/index.ts';
import { tellVisitFee } from '../visits/index.ts';
import type { glanceSchema } from './contract.ts';
import { lastClosedAt } from './last-closed-at.ts';
import { openQuotesAt } from './open-quotes-at.ts';
import { openTicketsAt } from './open-tickets-at.ts';
import { siteWithMachines } from './site-with-machines.ts';

type Glance = z.input<typeof glanceSchema>;

/**
 * A site as whoever talks to its people, or drives there, wants to see it: who they are, what stands
 * there and until when it is warranted, what is open, and what was found and done. It takes the same
 * number of statements however much there is.
 * @throws ProblemError 404 for a site that is unknown or not theirs
 */
export async function glanceAt(context: ReadContext, siteId: string): Promise<Glance> {
  const { prisma, now } = context;
  const { timeZone } = await companyOf(prisma);
  const today = localDay(now, timeZone);
  // First of all, because it says whether the site is there for whoever asks.
  const site = await siteWithMachines(context, siteId, today);
  const agreement = await agreementAt(prisma, siteId, today, now);
  return {
    ...site,
    agreement: agreement ?? null,
    feeNow: await feeNow(context, siteId),
    openTickets: await openTicketsAt(prisma, siteId),
    openQuotes: await openQuotesAt(prisma, siteId, now),
    lastClosed: await lastClosedAt(prisma, siteId, timeZone),
    // A call that is still being taken has no symptoms yet, so everything recent may be the same.
    recentWork: await recentWorkOf({ tx: prisma, now }, { siteId, symptoms: [] }),
  };
}

async function feeNow(context: ReadContext, siteId: string): Promise<Glance['feeNow']> {
  try {
    return await tellVisitFee(context, { windowStart: context.now.toISOString(), siteId });
  } catch (error) {
    if (error instanceof ProblemError && error.slug === 'no-price-book') return null;
    throw error;
  }
}
