import type { z } from 'zod';
import type { boardVisitSchema } from './contract.ts';

/** The columns of a household, as every statement of the board reads them. */
export interface HouseholdRow {
  name: string;
  phone: string;
  street: string;
  unit: string | null;
  city: string;
  hasAccessNotes: boolean;
}

/** Of a site `s` and its occupant `o`. */
export const householdColumns = `
  o.name, o.phone, s.street, s.unit, s.city, s.access_notes IS NOT NULL AS "hasAccessNotes"`;

export function householdOf({
  name,
  phone,
  street,
  unit,
  city,
  hasAccessNotes,
}: HouseholdRow): z.input<typeof boardVisitSchema>['household'] {
  return { name, phone, street, unit, city, hasAccessNotes };
}
