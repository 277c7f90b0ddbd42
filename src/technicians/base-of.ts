import type { Place } from '../planning/index.ts';
import type { Technician } from './technician-of.ts';

/** Where a technician's truck sets out, if it has a place of its own. */
export function baseOf({ profile }: Pick<Technician, 'profile'>): Place | null {
  if (profile === null) return null;
  const { baseLatitudeDeg: latitudeDeg, baseLongitudeDeg: longitudeDeg } = profile;
  return latitudeDeg === null || longitudeDeg === null ? null : { latitudeDeg, longitudeDeg };
}
