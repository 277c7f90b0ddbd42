import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { certificateRefusal, section608TypeSchema } from '../trade/index.ts';

/**
 * Lets those handle refrigerant who have the certificate for it, the owner no less than anybody.
 * Every machine we know is split or packaged, however little it holds.
 * @throws ProblemError 403 naming the certificate that is missing: it is not what was asked that is
 *   wrong but who asks, and a certified colleague may send the same
 */
export async function requireCertificate(act: ActContext): Promise<void> {
  const { epa608Type } = await act.tx.staff.findUniqueOrThrow({
    where: { id: act.actor.id },
    select: { epa608Type: true },
  });
  const held = section608TypeSchema.nullable().catch(null).parse(epa608Type);
  const refusal = certificateRefusal(held === null ? [] : [held], { kind: 'split_or_packaged' });
  if (refusal === undefined) return;
  throw new ProblemError('certificate-missing', refusal.message, {
    reason: refusal.code,
    certificateHeld: held,
    certificatesAccepted: ['type_2', 'universal'],
    source: refusal.source,
  });
}
