import {
  findCompressor,
  findOutdoorUnit,
  proveGroundedCompressor,
} from '../../harness/compressor.ts';
import { findWornContactor } from '../../harness/findings.ts';
import { draftQuote, findCapacitor, issueQuote, yesTo } from '../../harness/job.ts';
import { expectStatus } from '../../harness/test-service.ts';
import { noForm, offerAtLink, visit } from '../../harness/visitor.ts';
import type { Prepared, Recipe, World } from '../world.ts';
import { drafted, type Found, issued, onSite, readQuote, sold } from './stages.ts';

const idOf = ({ quoteId }: Pick<Found, 'quoteId'>) => ({ quoteId });

/** The quote of a job that goes on without it. */
const onIssued = async (world: World): Promise<Prepared> => {
  const found = await issued(world);
  return { params: idOf(found), leaves: () => world.stock.found.push(found) };
};

/** What is only looked at is made once. */
export const toLookAt = (world: World): Promise<Found> => world.once('quote', () => issued(world));

const look: Recipe = async (world) => ({ params: idOf(await toLookAt(world)), lasts: true });

/** A new machine beside the repair. */
async function withNewMachine(world: World): Promise<string> {
  const { service } = world;
  const job = await onSite(world);
  await proveGroundedCompressor(service, job);
  const options = [
    { title: 'Repair', findingIds: [await findCompressor(service, job)] },
    { title: 'New machine', findingIds: [await findOutdoorUnit(service, job)] },
  ];
  const body = { visitId: job.visitId, options };
  return expectStatus(await service.as('technician').post('/v1/quotes', body), 201).body.id;
}

/** Offers and their answers. */
export const quoteRecipes: Readonly<Record<string, Recipe>> = {
  draftQuote: async (world) => {
    const job = await onSite(world);
    const findingId = await findCapacitor(world.service, job);
    const findingIds = [findingId];
    return {
      body: { visitId: job.visitId, options: [{ title: 'Repair', findingIds }] },
      leaves: ({ id }) => world.stock.drafted.push({ job, findingId, quoteId: id }),
    };
  },
  reviseQuote: async (world) => {
    const offered = await drafted(world);
    const options = [{ title: 'Repair', findingIds: [offered.findingId] }];
    return { params: idOf(offered), body: { options }, lasts: true };
  },
  issueQuote: async (world) => {
    const found = await drafted(world);
    return { params: idOf(found), leaves: () => world.stock.issued.push(found) };
  },
  withdrawQuote: onIssued,
  getQuote: look,
  getQuotePaper: look,
  whyQuote: look,
  whyQuoteInWords: look,
  listQuoteLinks: look,
  acceptQuote: async (world) => {
    const found = await issued(world);
    return {
      params: idOf(found),
      body: yesTo(await readQuote(world.service, found)),
      leaves: () => world.stock.sold.push(found),
    };
  },
  declineQuote: async (world) => ({
    ...(await onIssued(world)),
    body: { declinedByName: 'Winifred Ashgrove', conditionLeft: 'Off at the disconnect.' },
  }),
  partialYes: async (world) => {
    const { service } = world;
    const job = await onSite(world);
    const findingIds = [await findCapacitor(service, job), await findWornContactor(service, job)];
    const quote = await issueQuote(service, await draftQuote(service, job, findingIds));
    const optionId = quote.body.options[0].id;
    return {
      params: { quoteId: quote.body.id },
      body: { optionId, findingIds: findingIds.slice(0, 1) },
    };
  },
  noteDecline: async ({ service }) => {
    const offer = await offerAtLink(service);
    const visitor = await visit(service, offer);
    expectStatus(await visitor.post(`${offer.page}/decline`, noForm(offer)), 303);
    return {
      params: { quoteId: offer.quote.body.id },
      body: { conditionLeft: 'Off at the disconnect.' },
    };
  },
  cancelAcceptance: async (world) => ({
    params: idOf(await sold(world)),
    body: { cancelledByName: 'Winifred Ashgrove', noticeText: 'I cancel this.' },
  }),
  recordFollowUp: async (world) => {
    const found = await issued(world);
    return {
      params: idOf(found),
      body: { revision: 1, step: 1, way: 'call' },
      leaves: () => world.stock.issued.push(found),
    };
  },
  getRepairOrReplace: async (world) => ({
    params: { quoteId: await withNewMachine(world) },
    lasts: true,
  }),
  confirmRefrigerantRules: async (world) => {
    const quoteId = await withNewMachine(world);
    const path = `/v1/quotes/${quoteId}/confirm-refrigerant-rules`;
    const owner = world.service.as('owner');
    const ifMatch = (await owner.get(`/v1/quotes/${quoteId}`)).headers['etag'] ?? '';
    // The refusal of other words says which words are wanted.
    const asked = await owner.post(path, { statement: 'All fine.' }, { ifMatch });
    return { params: { quoteId }, body: { statement: asked.body.statement } };
  },
  makeQuoteLink: async (world) => ({
    params: idOf(await issued(world)),
    body: { holder: 'approver' },
    lasts: true,
  }),
  revokeQuoteLink: async (world) => {
    const { quoteId } = await toLookAt(world);
    const owner = world.service.as('owner');
    const made = await owner.post(`/v1/quotes/${quoteId}/links`, { holder: 'approver' });
    return { params: { linkId: expectStatus(made, 201).body.id } };
  },
};
