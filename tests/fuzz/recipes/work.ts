import { expectStatus } from '../../harness/test-service.ts';
import { capacitor } from '../../harness/work.ts';
import type { Prepared, Recipe, World } from '../world.ts';
import { closed, type Found, finished, sold } from './stages.ts';

const soldAt =
  (body: Record<string, unknown>): Recipe =>
  async (world) => {
    const sale = await sold(world);
    return { params: { visitId: sale.job.visitId }, body: { ...about(sale), ...body } };
  };

const { oldPart: _, ...leftOver } = capacitor;

const moved = {
  ...{ refrigerant: 'R-410A', direction: 'recovered' },
  ...{ beforeOz: '10', afterOz: '26.5' },
};

/** Something recorded of a sold job that is to be struck out; the job is as before then. */
async function mistake(
  world: World,
  { what, name, bodyOf }: { what: string; name: string; bodyOf: (sale: Found) => object },
): Promise<Prepared> {
  const sale = await sold(world);
  const path = `/v1/visits/${sale.job.visitId}/${what}`;
  const made = await world.service.as('technician').post(path, bodyOf(sale));
  return {
    params: { [name]: expectStatus(made, 201).body.id },
    body: { reason: 'Of another house.' },
    leaves: () => world.stock.sold.push(sale),
  };
}

const about = ({ quoteId, findingId }: Found) => ({ quoteId, findingId });

/** Work, and how a ticket ends. */
export const workRecipes: Readonly<Record<string, Recipe>> = {
  recordWorkOutcome: soldAt({ outcome: 'done' }),
  recordPartUse: soldAt(capacitor),
  recordPartLeftOver: soldAt({ ...leftOver, reason: 'It had another.' }),
  moveRefrigerant: async ({ home, next }) => ({
    params: { visitId: home.visitId },
    body: { equipmentId: home.outdoorId, ...moved, cylinder: `C-${next()}` },
  }),
  strikeWorkOutcome: (world) =>
    mistake(world, {
      ...{ what: 'work-outcomes', name: 'workOutcomeId' },
      bodyOf: (sale) => ({ ...about(sale), outcome: 'done' }),
    }),
  strikePartUse: (world) =>
    mistake(world, {
      ...{ what: 'part-uses', name: 'partUseId' },
      bodyOf: (sale) => ({ ...about(sale), ...capacitor }),
    }),
  strikePartLeftOver: (world) =>
    mistake(world, {
      ...{ what: 'parts-left-over', name: 'partLeftOverId' },
      bodyOf: (sale) => ({ ...about(sale), ...leftOver, reason: 'It had another.' }),
    }),
  strikeRefrigerantMove: (world) =>
    mistake(world, {
      ...{ what: 'refrigerant-moves', name: 'refrigerantMoveId' },
      bodyOf: ({ job }) => ({
        ...moved,
        equipmentId: job.outdoorId,
        cylinder: `C-${world.next()}`,
      }),
    }),
  closeTicket: async (world) => {
    const job = await finished(world);
    return {
      params: { ticketId: job.ticketId },
      body: { complaintGone: 'yes', conditionLeft: 'Cooling; panels closed.' },
      leaves: () => {
        world.stock.closed.push(job);
        world.stock.toBill.push(job);
      },
    };
  },
  reopenTicket: async (world) => ({
    params: { ticketId: (await closed(world)).ticketId },
    body: { complaint: 'It blows warm air again.' },
  }),
};
