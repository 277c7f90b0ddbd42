import type { Tx } from '../platform/database/database.ts';
import { notSetUp } from './not-set-up.ts';

/**
 * Made once for each process.
 * @returns throws ProblemError 409 while there is no company, and asks no more once there is one, which
 *   nothing takes away
 */
export function requiresCompany(prisma: Pick<Tx, 'company'>): () => Promise<void> {
  let isSetUp = false;
  return async () => {
    isSetUp ||= (await prisma.company.count()) > 0;
    if (!isSetUp) throw notSetUp();
  };
}
