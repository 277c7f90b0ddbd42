import { appendJournal } from '../journal/index.ts';
import { dateOfDay, dayText } from '../platform/calendar-day.ts';
import type { SiteAgreement } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { agreementOf } from './agreement-of.ts';
import { agreementTag } from './answer-agreement.ts';

/**
 * Ends an agreement earlier than agreed. A longer one is a new agreement, which somebody agrees to.
 * What was quoted under it keeps the discount it was quoted with.
 * @throws ProblemError 404, 412 when somebody else ended it first, 400 for a day that is not before
 *   its end, or is before its start
 */
export async function endAgreement(
  act: ActContext,
  id: string,
  endsOn: string,
): Promise<SiteAgreement> {
  const { siteId } = await agreementOf(act.tx, act.actor, id);
  // Whatever becomes of the agreements of a site happens one after the other.
  await lockRow(act.tx, 'site', siteId);
  const before = await agreementOf(act.tx, act.actor, id);
  act.mustMatch(agreementTag(before));
  refuseOtherThanShorter(before, endsOn);
  const after = await act.tx.siteAgreement.update({
    where: { id },
    data: { endsOn: dateOfDay(endsOn), version: before.version + 1 },
  });
  await appendJournal(act, {
    event: 'agreement.ended',
    subject: { kind: 'agreement', id },
    before: { endsOn: dayText(before.endsOn) },
    after: { endsOn },
  });
  return after;
}

function refuseOtherThanShorter(before: SiteAgreement, endsOn: string): void {
  const [start, end] = [dayText(before.startsOn), dayText(before.endsOn)];
  if (endsOn >= end) {
    throw wrongField('/endsOn', 'not_shorter', `must be before ${end}, when it ends anyway`);
  }
  if (endsOn < start) {
    throw wrongField('/endsOn', 'before_start', `must not be before ${start}, when it began`);
  }
}
