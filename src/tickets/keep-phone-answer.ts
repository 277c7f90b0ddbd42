import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { phoneAnswerSchema } from './contract.ts';

/** What was said on the phone of a thing that can be seen, heard or tried. */
export type PhoneAnswer = z.output<typeof phoneAnswerSchema>;

/**
 * Keeps an answer given on the phone with its ticket, as reported: whoever is sent reads it, and no
 * verdict ever rests on it.
 */
export async function keepPhoneAnswer(
  act: ActContext,
  ticketId: string,
  { code, answer, note }: PhoneAnswer,
): Promise<void> {
  const observation = await act.tx.observation.create({
    data: {
      id: act.newId(),
      ticketId,
      code,
      answer,
      source: 'reported',
      phase: 'found',
      note: note ?? null,
      observedAt: act.now,
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'observation.recorded',
    subject: { kind: 'observation', id: observation.id },
    after: { ticketId, code, answer, source: 'reported', phase: 'found', observedAt: act.now },
  });
}
