import type { Actor } from '../platform/access/actor.ts';
import type { Tx } from '../platform/database/database.ts';
import type { SiteAgreement } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import { ownSites } from '../staff/index.ts';

/**
 * An agreement of a site that whoever asks may see.
 * @throws ProblemError 404, the same for one that does not exist and one of a site not theirs
 */
export async function agreementOf(
  prisma: Pick<Tx, 'siteAgreement'>,
  actor: Actor,
  id: string,
): Promise<SiteAgreement> {
  const agreement = await prisma.siteAgreement.findUnique({
    where: { id, site: ownSites(actor) },
  });
  if (agreement === null) throw notFound('agreement');
  return agreement;
}
