import { localDay } from '../company/index.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import type { Tx } from '../platform/database/database.ts';
import type { QuoteRevision, Site } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { bookInForce, taxRuleFor } from '../pricebook/index.ts';
import type { PricingInputs } from '../pricing/index.ts';
import { type AgreedVisit, agreementForPrice } from './agreement-for-price.ts';
import { termsStand } from './refuse-changed-terms.ts';
import { type QuotePlace, visitTerms } from './visit-terms.ts';
import { warrantiesToday } from './warranties-today.ts';

/**
 * A draft may lie for weeks. What is issued must be today's price: another price book in force,
 * another tax rule, another maintenance agreement of the site, a warranty that was recorded or has
 * ended since, or other work of the visit accepted meanwhile, means pricing it anew.
 * @throws ProblemError 409
 */
export async function refuseOldPrice(
  { tx, now }: Pick<ActContext, 'tx' | 'now'>,
  place: QuotePlace & { visit: AgreedVisit & { ticket: { site: Site } } },
  { priceBookVersionId }: QuoteRevision,
  inputs: PricingInputs,
  timeZone: string,
): Promise<void> {
  const { visit } = place;
  const today = localDay(now, timeZone);
  const book = await bookInForce(tx, now);
  const rule = await taxRuleFor(tx, visit.ticket.site.jurisdiction, now, timeZone);
  const agreement = await agreementForPrice(tx, visit, today, now);
  const isToday =
    book.id === priceBookVersionId &&
    canonicalJson(rule) === canonicalJson(inputs.tax) &&
    canonicalJson(agreement ?? null) === canonicalJson(inputs.agreement ?? null) &&
    termsStand(inputs, await visitTerms(tx, place, today)) &&
    (await warrantiesStand(tx, today, inputs, priceBookVersionId));
  if (isToday) return;
  throw new ProblemError(
    'price-outdated',
    'The price book, the tax rule, the agreement, a warranty or what was accepted at this visit has changed since this was priced. Revise the quote.',
  );
}

/** Whether the same parts are under the maker's warranty today as when they were priced. */
async function warrantiesStand(
  tx: Pick<Tx, 'finding' | 'priceBookPart'>,
  today: string,
  inputs: PricingInputs,
  versionId: string,
): Promise<boolean> {
  const isWarranted = await warrantiesToday(tx, today, inputs, versionId);
  const work = inputs.options.flatMap((option) => option.work);
  return work.every(({ findingId, parts }) =>
    parts.every(
      ({ code, underManufacturerWarranty }) =>
        isWarranted(findingId, code) === underManufacturerWarranty,
    ),
  );
}
