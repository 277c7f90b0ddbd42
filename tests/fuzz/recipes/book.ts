import { taxRule } from '../../../seed/company.ts';
import { consumerRules } from '../../../seed/consumer-rules.ts';
import { priceBook, rates } from '../../../seed/price-book.ts';
import { beginDraft } from '../../harness/draft.ts';
import { expectStatus } from '../../harness/test-service.ts';
import type { Prepared, Recipe, World } from '../world.ts';
import { laterDay } from './later.ts';

const newDraft = async ({ service }: World): Promise<Prepared> => ({
  params: { draftId: (await beginDraft(service)).id },
});

const newRule = ({ next }: World) => ({
  ...consumerRules[0],
  code: `rule_${next()}`,
  jurisdiction: 'fuzz_county',
});

async function addedRule(world: World): Promise<Prepared> {
  const added = await world.service.as('owner').post('/v1/consumer-rules', newRule(world));
  return { params: { ruleId: expectStatus(added, 201).body.id } };
}

/** The price book and the rules of a place. Whatever takes force does so long after the rest. */
export const bookRecipes: Readonly<Record<string, Recipe>> = {
  publishPriceBook: async ({ next }) => ({
    body: { ...priceBook, effectiveFrom: `${laterDay(next())}T00:00:00Z` },
  }),
  beginPriceBookDraft: async () => ({
    body: { note: 'Next spring', from: 'in_force' },
    lasts: true,
  }),
  getPriceBookDraft: async (world) => ({ ...(await newDraft(world)), lasts: true }),
  getPriceBookDraftList: async (world) => ({
    params: { ...(await newDraft(world)).params, list: 'tiers' },
    lasts: true,
  }),
  changePriceBookDraft: async (world) => ({
    ...(await newDraft(world)),
    body: { note: 'The spring after' },
    lasts: true,
  }),
  replacePriceBookDraftList: async (world) => {
    const { id } = await beginDraft(world.service);
    const tagAt = `/v1/price-book-drafts/${id}`;
    const list = await world.service.as('owner').get(`${tagAt}/tiers.csv`);
    const file = { mediaType: 'text/csv', bytes: Buffer.from(list.text) };
    return { params: { draftId: id, list: 'tiers' }, file, tagAt, lasts: true };
  },
  previewPriceBookDraft: async (world) => ({
    ...(await newDraft(world)),
    query: { quotes: '5' },
    lasts: true,
  }),
  publishPriceBookDraft: async (world) => {
    const listed = await world.service.as('owner').get('/v1/price-books?limit=1&order=newest');
    const [newest] = expectStatus(listed, 200).body.items;
    const effectiveFrom = `${laterDay(world.next())}T00:00:00Z`;
    return {
      ...(await newDraft(world)),
      body: { effectiveFrom, overBookNumber: newest.number },
      onlyNow: true,
    };
  },
  dropPriceBookDraft: newDraft,
  addTaxRule: async ({ next }) => ({
    body: { ...taxRule, jurisdiction: `fuzz_county_${next()}` },
  }),
  tryRates: async () => ({ body: { ...rates }, lasts: true }),
  addConsumerRule: async (world) => ({ body: newRule(world) }),
  confirmConsumerRule: async (world) => ({
    ...(await addedRule(world)),
    body: { confirmedBy: 'Counsel' },
  }),
  endConsumerRule: async (world) => ({
    ...(await addedRule(world)),
    body: { effectiveTo: '2031-01-01' },
  }),
};
