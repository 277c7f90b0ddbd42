import { companyOf, localDay } from '../company/index.ts';
import { allowedActions, visitLifecycle } from '../lifecycles/index.ts';
import type { Equipment, Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { visitOf } from '../visits/index.ts';

/** A visit whose technician has arrived. */
export type VisitOnSite = Visit & { arrivedAt: Date };

/**
 * The visit at which something is being recorded, locked until the transaction ends: whoever
 * finishes it at the same moment waits, so that nothing is recorded after its end.
 * @throws ProblemError 404, or 409 unless the technician is on site: evidence is made where the
 *   equipment is
 */
export async function requireOnSite(act: ActContext, visitId: string): Promise<VisitOnSite> {
  // Before the lock, too: nobody holds or waits for what is another's.
  await visitOf(act.tx, act, visitId);
  await lockRow(act.tx, 'visit', visitId);
  const visit = await visitOf(act.tx, act, visitId);
  const { arrivedAt } = visit;
  if (visit.state !== 'on_site' || arrivedAt === null) {
    throw new ProblemError(
      'not-allowed-now',
      `Evidence is recorded on site; this visit is ${visit.state.replaceAll('_', ' ')}.${
        visit.state === 'finished' ? WHEN_FINISHED : ''
      }`,
      { currentState: visit.state, allowedActions: allowedActions(visitLifecycle, visit.state) },
    );
  }
  return { ...visit, arrivedAt };
}

/** What a technician does who forgot the readings after the work. */
const WHEN_FINISHED =
  ' How things were left (phase `left`) is recorded on the day of the visit until the ticket is ' +
  'closed; after that, say at the closing why there are no readings.';

/**
 * The same for what is recorded of how things were left: the technician may have finished the visit
 * a moment too early, so it may be written down on the day of the visit while the ticket is open.
 * @throws ProblemError as above, later than that
 */
export async function requireOnSiteOrJustLeft(
  act: ActContext,
  visitId: string,
): Promise<VisitOnSite> {
  // The ticket before the visit, as everywhere: whoever closes it meanwhile waits.
  const { ticketId } = await visitOf(act.tx, act, visitId);
  await lockRow(act.tx, 'ticket', ticketId);
  await lockRow(act.tx, 'visit', visitId);
  const visit = await visitOf(act.tx, act, visitId);
  const { arrivedAt } = visit;
  if (arrivedAt === null || visit.state !== 'finished') return requireOnSite(act, visitId);
  const { timeZone } = await companyOf(act.tx);
  const ticket = await act.tx.ticket.findUniqueOrThrow({ where: { id: visit.ticketId } });
  const isSameDay = localDay(act.now, timeZone) === localDay(arrivedAt, timeZone);
  if (!isSameDay || ticket.state === 'closed') return requireOnSite(act, visitId);
  return { ...visit, arrivedAt };
}

/**
 * The machines of the site a visit goes to, by identifier.
 */
export async function equipmentAt(
  act: Pick<ActContext, 'tx'>,
  visit: Pick<Visit, 'ticketId'>,
): Promise<Map<string, Equipment>> {
  const machines = await act.tx.equipment.findMany({
    where: { system: { site: { tickets: { some: { id: visit.ticketId } } } } },
  });
  return new Map(machines.map((machine) => [machine.id, machine]));
}

/**
 * One machine of the site of a visit.
 * @throws ProblemError 422 for a machine that is not there
 */
export function requireEquipment(
  machines: Map<string, Equipment>,
  id: string,
  pointer: string,
): Equipment {
  const machine = machines.get(id);
  if (machine === undefined) throw noSuchEquipment(pointer);
  return machine;
}

/** The refusal of a machine that is not at the site of a visit. */
export function noSuchEquipment(pointer: string): ProblemError {
  return unknownReference(pointer, 'There is no such equipment at this site.');
}
