import { appendJournal } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { versionTag } from '../platform/http/etag.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { deliveryOf, mayHaveArrived, mayRetry, type WholeDelivery } from './delivery-body.ts';

/**
 * Lets a dead delivery be tried again, as often as at first. The mail keeps its Message-ID, so that
 * a mailbox that has it already can tell; and a link that may have arrived goes on opening.
 * @throws ProblemError 404, 409 unless it is dead and no text that may have arrived, 412 when
 *   somebody was first
 */
export async function retryDelivery(act: ActContext, id: string): Promise<WholeDelivery> {
  // Two people who try again together wait for each other here; the second then sees the first.
  await sqlOf(act.tx).query(LOCK, [id]);
  const { channel, state: row } = await deliveryOf(act.tx, id);
  if (row === null) throw new Error(`delivery ${id} has no state`);
  act.mustMatch(versionTag(row.version));
  if (!mayRetry(channel, row)) {
    const why = row.state === 'dead' ? ASK_ANEW : 'Only a dead delivery can be tried again.';
    throw new ProblemError('not-allowed-now', why, {
      currentState: row.state,
      allowedActions: [],
    });
  }
  await act.tx.deliveryState.update({
    where: { deliveryId: id },
    data: {
      ...{ state: 'waiting', attempts: 0, nextAt: act.now },
      ...{ handedOverAt: null, answerCode: null, linkId: null, reason: null },
      ...{ version: row.version + 1, changedAt: act.now },
    },
  });
  await appendJournal(act, {
    event: 'delivery.retried',
    subject: { kind: 'delivery', id },
    after: { mayHaveArrived: mayHaveArrived(row) },
  });
  return deliveryOf(act.tx, id);
}

const ASK_ANEW =
  'This text may have arrived, and a retry would keep the key that the gateway knows. Ask the ' +
  'customer; if it did not arrive, ask for it anew.';

const LOCK = 'SELECT 1 FROM delivery_state WHERE delivery_id = $1 FOR NO KEY UPDATE';
