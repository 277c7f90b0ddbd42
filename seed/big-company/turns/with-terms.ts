import { localDay } from '../../../src/company/index.ts';
import { dateOfDay, plusDays } from '../../../src/platform/calendar-day.ts';
import { agreementSchema } from '../../../src/pricing/index.ts';
import { type CompanyPlan, hasTurns } from '../company-plan.ts';
import { type MakeId, makeIds } from '../make-ids.ts';
import type { Machine, Place, PlaceAgreement } from '../place.ts';
import { bookAt } from '../price-books.ts';
import { randomFor } from '../random.ts';

/**
 * A place with what makes it uncommon: a maintenance agreement, which may end soon after the first
 * call; machines whose warranty ends on the very day of that call. Of a company without turns it
 * stays as it is.
 */
export function withTerms(plan: CompanyPlan, place: Place, index: number): Place {
  if (!hasTurns(plan)) return place;
  const random = randomFor(plan.seed, 'terms', index);
  const day = localDay(place.createdAt, plan.company.timeZone);
  const isLastDay = random.chance(0.25);
  const agreement = random.chance(0.15)
    ? agreementOf(plan, place, makeIds(random), random.chance(0.5) ? 1 : random.int(30, 300))
    : undefined;
  return {
    ...place,
    ...(agreement && { agreement }),
    ...(isLastDay && {
      systems: place.systems.map((system) => ({
        ...system,
        outdoor: warrantedUntil(system.outdoor, day),
        indoor: warrantedUntil(system.indoor, day),
      })),
    }),
  };
}

function warrantedUntil(machine: Machine, day: string): Machine {
  return { ...machine, row: { ...machine.row, partsWarrantyUntil: dateOfDay(day) } };
}

/** As the price book offered it when the company first heard of the place. */
function agreementOf(
  plan: CompanyPlan,
  { createdAt }: Place,
  makeId: MakeId,
  holdsDays: number,
): PlaceAgreement | undefined {
  const offered = bookAt(plan.books, createdAt).agreements?.find(
    ({ discounts }) => discounts.visit_fee !== undefined,
  );
  if (offered === undefined) return undefined;
  const { code, name, discounts } = offered;
  const day = localDay(createdAt, plan.company.timeZone);
  return {
    id: makeId(createdAt),
    plan: agreementSchema.parse({ code, name, discounts }),
    startsOn: plusDays(day, -60),
    endsOn: plusDays(day, holdsDays),
  };
}
