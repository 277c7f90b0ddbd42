import { ProblemError } from './problem.ts';

/** The entity tag of a versioned resource (RFC 9110, strong). */
export function versionTag(version: number, suffix = ''): string {
  return `"v${version}${suffix}"`;
}

/**
 * Checks an If-Match header against the present tag.
 * @throws ProblemError 412 unless one of its tags is the present one, or it is `*`
 */
export function requireMatch(header: string | undefined, present: string): void {
  if (header !== undefined && tagsIn(header).some((tag) => tag === '*' || tag === present)) return;
  throw new ProblemError(
    'version-changed',
    `The present version is ${present}. Read it again before you change it.`,
    { currentETag: present },
  );
}

/** True when an If-None-Match header names the present tag, so that 304 may be answered. */
export function isUnchanged(header: string | undefined, present: string): boolean {
  // RFC 9110 compares weakly here: a W/ prefix does not matter.
  return (
    header !== undefined &&
    tagsIn(header).some((tag) => tag === '*' || tag.replace(/^W\//, '') === present)
  );
}

function tagsIn(header: string): string[] {
  return header.split(',').map((tag) => tag.trim());
}
