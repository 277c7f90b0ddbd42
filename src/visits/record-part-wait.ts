import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay, dayText, plusDays } from '../platform/calendar-day.ts';
import type { PartWait } from '../platform/database/generated/client.ts';
import { unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { partPromiseSchema, promisedPartSchema } from './contract.ts';

export type PartPromise = z.output<typeof partPromiseSchema>;

/** A year and a month: no part is waited for so long, and a day beyond it is a slip in the year. */
const DAYS_AHEAD_MAX = 400;

/**
 * Puts on record what a ticket waits for and the day the customer was told.
 * @param pointer where the promise stands in the request
 * @throws ProblemError 400 for a day that is over or lies too far ahead to be meant, 422 for a part that no price book has
 */
export async function recordPartWait(
  act: ActContext,
  of: { ticketId: string; visitId?: string },
  { what, partCode, promisedOn, toldTo }: PartPromise,
  pointer: string,
): Promise<PartWait> {
  const { timeZone } = await companyOf(act.tx);
  const today = localDay(act.now, timeZone);
  if (promisedOn < today) {
    throw wrongField(`${pointer}/promisedOn`, 'day_over', 'is over');
  }
  if (promisedOn > plusDays(today, DAYS_AHEAD_MAX)) {
    const message = 'is more than a year ahead: look at the year';
    throw wrongField(`${pointer}/promisedOn`, 'too_far_ahead', message);
  }
  await requireKnownPart(act, partCode, `${pointer}/partCode`);
  const wait = await act.tx.partWait.create({
    data: {
      id: act.newId(),
      ticketId: of.ticketId,
      visitId: of.visitId ?? null,
      waitingFor: what,
      partCode: partCode ?? null,
      promisedOn: dateOfDay(promisedOn),
      toldTo,
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'part.promised',
    subject: { kind: 'part_wait', id: wait.id },
    after: { ticketId: wait.ticketId, visitId: wait.visitId, partCode: wait.partCode, promisedOn },
  });
  return wait;
}

/** A promise as an answer shows it. */
export function promiseBody(wait: PartWait): z.input<typeof promisedPartSchema> {
  const { waitingFor, promisedOn, recordedAt, recordedById: _, ...rest } = wait;
  return {
    ...rest,
    what: waitingFor,
    promisedOn: dayText(promisedOn),
    recordedAt: recordedAt.toISOString(),
  };
}

async function requireKnownPart(
  { tx }: ActContext,
  code: string | undefined,
  pointer: string,
): Promise<void> {
  if (code === undefined) return;
  const part = await tx.priceBookPart.findFirst({ where: { code }, select: { code: true } });
  if (part === null) throw unknownReference(pointer, 'There is no such part.');
}
