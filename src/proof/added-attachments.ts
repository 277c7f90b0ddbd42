import type { PaperAttachment } from '../documents/index.ts';
import type { FoundAttachment } from './pdf/attachments-of.ts';

/**
 * The files attached to a paper that are not those it was sealed with: others, changed ones, and a
 * second one under the same name.
 */
export function addedAttachments(
  found: readonly FoundAttachment[],
  sealed: readonly PaperAttachment[],
): FoundAttachment[] {
  const awaited = [...sealed];
  return found.filter((each) => {
    const at = awaited.findIndex((other) => isSame(each, other));
    if (at !== -1) awaited.splice(at, 1);
    return at === -1;
  });
}

function isSame(found: FoundAttachment, sealed: PaperAttachment): boolean {
  return (
    found.name === sealed.name &&
    found.description === sealed.description &&
    Buffer.compare(found.bytes, sealed.bytes) === 0
  );
}
