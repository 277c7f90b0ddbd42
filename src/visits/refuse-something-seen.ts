import { allowedActions, visitLifecycle } from '../lifecycles/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Refuses to call a locked visit one where nobody was let in, when something of it is on record: its
 * fee would be lost, and what was sold at it. What was struck out is on record nowhere.
 * @throws ProblemError 409 naming what is on record
 */
export async function refuseSomethingSeen({ tx }: ActContext, visit: Visit): Promise<void> {
  const ofVisit = { where: { visitId: visit.id }, select: { visitId: true } };
  const standing = { ...ofVisit, where: { visitId: visit.id, strike: null } };
  const looks: readonly [string, () => Promise<object | null>][] = [
    ['a reading', () => tx.reading.findFirst(ofVisit)],
    ['an observation', () => tx.observation.findFirst(ofVisit)],
    ['a finding', () => tx.finding.findFirst(ofVisit)],
    ['a quote', () => tx.quote.findFirst(ofVisit)],
    ['work', () => tx.workOutcome.findFirst(standing)],
    ['a part', () => tx.partUse.findFirst(standing)],
    ['a part left over', () => tx.partLeftOver.findFirst(standing)],
    ['refrigerant', () => tx.refrigerantMove.findFirst(standing)],
  ];
  for (const [what, look] of looks) {
    if ((await look()) === null) continue;
    throw new ProblemError(
      'not-allowed-now',
      `You were let in: ${what} is on record at this visit. Finish the visit instead.`,
      {
        currentState: visit.state,
        action: 'report_no_access',
        allowedActions: allowedActions(visitLifecycle, visit.state).filter(
          (each) => each !== 'report_no_access',
        ),
      },
    );
  }
}
