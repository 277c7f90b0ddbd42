import { appendJournal } from '../journal/index.ts';
import type { WorkStrike } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/** A record of the work, by the one column that names it. */
export type StruckRecord = {
  kind: 'work_outcome' | 'part_use' | 'part_left_over' | 'refrigerant_move';
  row: { id: string; visitId: string };
};

/**
 * Strikes out a record of the work, once, with its ticket locked: it stays readable and counts
 * nowhere.
 * @throws ProblemError 409 when it is struck out already
 */
export async function strikeOut(
  act: ActContext,
  { kind, row: { id, visitId } }: StruckRecord,
  reason: string,
): Promise<WorkStrike> {
  const record = { [COLUMN[kind]]: id };
  const known = await act.tx.workStrike.findFirst({ where: record, select: { reason: true } });
  if (known !== null) {
    throw new ProblemError('already-exists', `It is struck out already: ${known.reason}`);
  }
  const strike = await act.tx.workStrike.create({
    data: { ...record, id: act.newId(), reason, struckAt: act.now, struckById: act.actor.id },
  });
  await appendJournal(act, {
    event: 'work.struck',
    subject: { kind, id },
    after: { strikeId: strike.id, visitId },
  });
  return strike;
}

const COLUMN = {
  work_outcome: 'workOutcomeId',
  part_use: 'partUseId',
  part_left_over: 'partLeftOverId',
  refrigerant_move: 'refrigerantMoveId',
} as const;
