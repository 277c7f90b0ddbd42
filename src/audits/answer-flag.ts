import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { WholeFlag } from './flag-of.ts';
import type { WrittenLetter } from './write-letter.ts';

interface Answer {
  answer: 'accepted' | 'dismissed';
  reason: string | undefined;
  letter?: WrittenLetter | undefined;
  memoIds?: readonly string[];
}

/** Stores the answer of a locked flag with what was given back, and the state that goes with it. */
export async function answerFlag(
  act: ActContext,
  flag: WholeFlag,
  { answer, reason, letter, memoIds = [] }: Answer,
): Promise<void> {
  await act.tx.auditAnswer.create({
    data: {
      flagId: flag.id,
      answer,
      reason: reason ?? null,
      letterLanguage: letter?.language ?? null,
      letter: letter?.text ?? null,
      answeredAt: act.now,
      answeredById: act.actor.id,
    },
  });
  await act.tx.auditAnswerMemo.createMany({
    data: memoIds.map((memoId) => ({ memoId, flagId: flag.id })),
  });
  await sqlOf(act.tx).query(MOVE, [flag.id, answer, act.now]);
}

const MOVE = `
  UPDATE audit_flag_state SET state = $2, version = version + 1, changed_at = $3
  WHERE flag_id = $1`;
