import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { dateOfDay } from '../platform/calendar-day.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { SiteAgreement } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { notFound, ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { bookInForce } from '../pricebook/index.ts';
import type { Agreement } from '../pricing/index.ts';
import type { newAgreementSchema } from './contract.ts';

type NewAgreement = z.output<typeof newAgreementSchema>;

/**
 * Puts a site under a maintenance agreement by a plan of the price book in force.
 * @throws ProblemError 404 for an unknown site, 422 for a plan the book does not offer, 409 when
 *   the site has another agreement on one of the days, or no price book is in force
 */
export async function addAgreement(
  act: ActContext,
  siteId: string,
  input: NewAgreement,
): Promise<SiteAgreement> {
  // Two that arrive together wait for each other on the site, so that the second can be told which
  // days the first one took. Whoever comes around this lock is refused by the database.
  await lockRow(act.tx, 'site', siteId);
  const site = await act.tx.site.findUnique({ where: { id: siteId }, select: { id: true } });
  if (site === null) throw notFound('site');
  const plan = await requirePlan(act, input.planCode);
  await refuseOverlap(act, siteId, input);
  const { planCode, startsOn, endsOn } = input;
  const agreement = await act.tx.siteAgreement.create({
    data: {
      id: act.newId(),
      siteId,
      planCode,
      plan,
      startsOn: dateOfDay(startsOn),
      endsOn: dateOfDay(endsOn),
      agreedByName: input.agreedByName,
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'agreement.added',
    subject: { kind: 'agreement', id: agreement.id },
    after: { siteId, planCode, discounts: plan.discounts, startsOn, endsOn },
  });
  return agreement;
}

/** The plan as it is agreed to now; its yearly price and visits are the book's business. */
async function requirePlan(act: ActContext, planCode: string): Promise<Agreement> {
  const { agreements } = await bookInForce(act.tx, act.now);
  const plan = agreements.find(({ code }) => code === planCode);
  if (plan !== undefined) return { code: plan.code, name: plan.name, discounts: plan.discounts };
  const plans = agreements.map(({ code, name }) => `${code} (${name})`).join(', ');
  throw unknownReference(
    '/planCode',
    plans === ''
      ? 'The price book in force offers no plan.'
      : `The price book in force has no such plan. It offers ${plans}.`,
  );
}

async function refuseOverlap(
  act: ActContext,
  siteId: string,
  { startsOn, endsOn }: NewAgreement,
): Promise<void> {
  const found = await sqlOf(act.tx).query<Overlapping>(OVERLAPPING, [siteId, startsOn, endsOn]);
  const [other] = found.rows;
  if (other === undefined) return;
  throw new ProblemError(
    'agreement-overlaps',
    `This site has an agreement from ${other.startsOn} up to ${other.endsOn}.`,
    { ...other },
  );
}

interface Overlapping {
  agreementId: string;
  planCode: string;
  startsOn: string;
  endsOn: string;
}

// The same ranges as in the constraint: one that ended on its first day held on no day.
const OVERLAPPING = `
  SELECT id AS "agreementId", plan_code AS "planCode", starts_on::text AS "startsOn",
    ends_on::text AS "endsOn"
  FROM site_agreement WHERE site_id = $1
    AND daterange(starts_on, ends_on, '[)') && daterange($2, $3, '[)')
  ORDER BY starts_on LIMIT 1`;
