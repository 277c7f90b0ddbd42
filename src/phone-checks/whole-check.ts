import type { PhoneAnswer, Prisma } from '../platform/database/generated/client.ts';

/** What is read with a dialogue: all that was answered, in the order it was. */
export const withAnswers = {
  answers: { orderBy: { sequence: 'asc' } },
} as const satisfies Prisma.PhoneCheckInclude;

/** A stored dialogue with its answers. */
export type WholeCheck = Prisma.PhoneCheckGetPayload<{ include: typeof withAnswers }>;

/** An answer that is not written yet: what was said, or what the records say. */
export type SaidAnswer = Pick<PhoneAnswer, 'questionCode' | 'answer'> &
  Partial<Pick<PhoneAnswer, 'numberValue' | 'note'>>;

/**
 * The question code under which what the records said is kept among the answers, so that a dialogue
 * is read again years later from its own rows alone.
 */
export const KNOWN = 'known';
