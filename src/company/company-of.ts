import type { Tx } from '../platform/database/database.ts';
import type { Company } from '../platform/database/generated/client.ts';

/**
 * The one company of this deployment.
 * @throws Error before it has been set up, which the first start does
 */
export async function companyOf(prisma: Pick<Tx, 'company'>): Promise<Company> {
  const company = await prisma.company.findUnique({ where: { id: 1 } });
  if (company === null) throw new Error('the company has not been set up yet');
  return company;
}
