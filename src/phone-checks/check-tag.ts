import { versionTag } from '../platform/http/etag.ts';
import type { SaidAnswer, WholeCheck } from './whole-check.ts';

/**
 * The tag of a ticket's dialogue: another run, another answer, its end and the end of its danger each
 * change it, and none comes back. So of two who answer at once the second is told that something was
 * answered meanwhile. What was learned of the site since and is not written yet stands beside it: it
 * may be taken back before anybody writes it.
 */
export function checkTag(
  check: WholeCheck | undefined,
  learned: readonly SaidAnswer[] = [],
): string {
  if (check === undefined) return versionTag(0);
  const { run, answers, endedAt, dangerOverAt } = check;
  const steps = answers.length + (endedAt === null ? 0 : 1) + (dangerOverAt === null ? 0 : 1);
  return versionTag(run, `.${steps}${learned.map(({ answer }) => `.${answer}`).join('')}`);
}
