import type { z } from 'zod';
import type { ReadContext } from '../platform/http/route.ts';
import type { meSchema } from './contract.ts';

/** Who is signed in, and whether a code is asked of them. */
export async function readMe({
  prisma,
  actor: { id, name, role },
}: Pick<ReadContext, 'prisma' | 'actor'>): Promise<z.input<typeof meSchema>> {
  const { email, secondFactors } = await prisma.staff.findUniqueOrThrow({
    where: { id },
    select: {
      email: true,
      secondFactors: {
        where: { endedAt: null, confirmedAt: { not: null } },
        select: { recoveryCodes: { where: { usedAt: null }, select: { place: true } } },
      },
    },
  });
  const recoveryCodesLeft = secondFactors[0]?.recoveryCodes.length ?? 0;
  return {
    id,
    name,
    role,
    email,
    secondFactor: { isOn: secondFactors.length > 0, recoveryCodesLeft },
  };
}
