import { versionTag } from '../platform/http/etag.ts';
import type { Technician } from './technician-of.ts';

/** The tag of a profile; the first version is the one in which nothing is written down yet. */
export function technicianTag({ profile }: Pick<Technician, 'profile'>): string {
  return versionTag(profile?.version ?? 1);
}
