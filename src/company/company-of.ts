import type { Tx } from '../platform/database/database.ts';
import type { Company } from '../platform/database/generated/client.ts';
import { notSetUp } from './not-set-up.ts';

/**
 * The one company of this deployment.
 * @throws ProblemError 409 before its owner has set it up
 */
export async function companyOf(prisma: Pick<Tx, 'company'>): Promise<Company> {
  const company = await prisma.company.findUnique({ where: { id: 1 } });
  if (company === null) throw notSetUp();
  return company;
}
