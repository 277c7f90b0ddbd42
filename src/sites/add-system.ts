import { appendJournal } from '../journal/index.ts';
import type { ComfortSystem } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';

/**
 * Adds a system to a site.
 * @throws ProblemError 404 for a site that is unknown or not theirs, 409 when it has a system of
 *   that name
 */
export async function addSystem(
  act: ActContext,
  siteId: string,
  name: string,
): Promise<ComfortSystem> {
  const where = { id: siteId, AND: ownSites(act.actor) };
  // Before the lock, too: nobody holds or waits for what is another's.
  if ((await act.tx.site.count({ where })) === 0) throw notFound('site');
  // Two systems of one name that arrive together wait for each other on the site.
  await lockRow(act.tx, 'site', siteId);
  const site = await act.tx.site.findUnique({ where, include: { systems: true } });
  if (site === null) throw notFound('site');
  if (site.systems.some((system) => system.name === name)) {
    throw new ProblemError('already-exists', `This site already has a system named "${name}".`);
  }
  const system = await act.tx.comfortSystem.create({
    data: { id: act.newId(), siteId, name, createdAt: act.now },
  });
  // A site is shown with its systems, so it is another version of the site from now on.
  await act.tx.site.update({ where: { id: siteId }, data: { version: site.version + 1 } });
  await appendJournal(act, {
    event: 'system.added',
    subject: { kind: 'system', id: system.id },
    after: { siteId, name },
  });
  return system;
}
