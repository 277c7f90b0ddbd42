import type { SaidAnswer, WholeCheck } from './whole-check.ts';

/** A dialogue as it is with more answers at its end, said now to somebody; nothing is written. */
export function withSaid(
  check: WholeCheck,
  said: readonly SaidAnswer[],
  { now, actor }: { now: Date; actor: { id: string } },
): WholeCheck {
  const rows = said.map(({ questionCode, answer, numberValue = null, note = null }, index) => ({
    phoneCheckId: check.id,
    sequence: check.answers.length + index + 1,
    questionCode,
    answer,
    numberValue,
    note,
    answeredAt: now,
    recordedById: actor.id,
  }));
  return { ...check, answers: [...check.answers, ...rows] };
}
