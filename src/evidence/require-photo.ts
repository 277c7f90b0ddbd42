import { unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Makes sure that a photo that something recorded at a visit names was sent to this very visit.
 * @throws ProblemError 422 when it was not
 */
export async function requirePhoto(
  act: Pick<ActContext, 'tx'>,
  visitId: string,
  sha256: string | undefined,
  pointer: string,
): Promise<void> {
  if (sha256 === undefined) return;
  const photo = await act.tx.visitPhoto.findUnique({
    where: { visitId_sha256: { visitId, sha256 } },
  });
  if (photo === null) {
    throw unknownReference(pointer, 'This visit has no such photo; send the photo first.');
  }
}
