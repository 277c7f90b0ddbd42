import { versionTag } from '../platform/http/etag.ts';
import type { WholeCheck } from './whole-check.ts';

/**
 * The tag of a ticket's dialogue: another run, another answer, its end and the end of its danger each
 * change it, and none comes back. So of two who answer at once the second is told that something was
 * answered meanwhile.
 */
export function checkTag(check: WholeCheck | undefined): string {
  if (check === undefined) return versionTag(0);
  const { run, answers, endedAt, dangerOverAt } = check;
  const steps = answers.length + (endedAt === null ? 0 : 1) + (dangerOverAt === null ? 0 : 1);
  return versionTag(run, `.${steps}`);
}
