import { continueRun } from '../../../src/audits/continue-run.ts';
import { auditDepsOf, flaggedJob } from '../../audits/judged.ts';
import { expectStatus } from '../../harness/test-service.ts';
import type { Prepared, Recipe, World } from '../world.ts';

const IMPORT_COLUMNS =
  'date,technician,complaint,found,done,parts,hours,arrived,left,fee,labor,tax,charged';

const lastYear = (count: number) =>
  Buffer.from(
    `${IMPORT_COLUMNS}\r\n2025-07-03,,,,replaced capacitor,,,,,,,,${700 + (count % 100)}.00`,
  );

/** One of the open flags that say what is too much, or one of a new job. */
async function flagged({ service, next }: World): Promise<Prepared> {
  const listed = await service.as('owner').get('/v1/audit/flags?state=open&limit=100');
  const items: { id: string; overCents: number }[] = expectStatus(listed, 200).body.items;
  const open = items.filter(({ overCents }) => overCents > 0);
  const flagId = open[next() % open.length]?.id ?? (await flaggedJob(service)).flagId;
  return { params: { flagId }, onlyNow: true };
}

/** A job with a flag that nobody answers. */
const toLookAt = (world: World) => world.once('flag', () => flaggedJob(world.service));

async function imported({ service, next }: World): Promise<Prepared> {
  const path = `/v1/bill-imports?origin=other_company&fileName=${next()}.csv`;
  const taken = await service.as('owner').send(path, 'text/csv', lastYear(next()));
  return { params: { importId: expectStatus(taken, 201).body.id }, lasts: true };
}

const period = { from: '2026-07-01', to: '2026-07-31' };
const inPeriod: Recipe = async () => ({ query: period, lasts: true });

/** The owner's look at what was done, and at bills of another time. */
export const ownerRecipes: Readonly<Record<string, Recipe>> = {
  getAudit: inPeriod,
  getAuditReport: inPeriod,
  getAuditReportTable: inPeriod,
  getAuditReportPaper: inPeriod,
  getAuditPlot: async () => ({ params: { name: 'unproven-by-month' }, query: period, lasts: true }),
  getAuditFlag: async (world) => ({
    params: { flagId: (await toLookAt(world)).flagId },
    lasts: true,
  }),
  auditTicket: async (world) => ({
    params: { ticketId: (await toLookAt(world)).job.ticketId },
    lasts: true,
  }),
  acceptAuditFlag: async (world) => ({ ...(await flagged(world)), body: {} }),
  dismissAuditFlag: async (world) => ({
    ...(await flagged(world)),
    body: { reason: 'Agreed with the customer.' },
  }),
  startAuditRun: async ({ service }) => {
    // One run at a time: the one before has to have ended.
    const deps = auditDepsOf(service);
    while (await continueRun(deps));
    return {};
  },
  importBills: async ({ next }) => ({
    query: { origin: 'other_company', fileName: `${next()}.csv` },
    file: { mediaType: 'text/csv', bytes: lastYear(next()) },
  }),
  getBillImport: imported,
  listImportedBills: imported,
  getBillImportPlot: imported,
  getImportedBill: async (world) => {
    const { params } = await imported(world);
    const path = `/v1/bill-imports/${params?.['importId']}/bills`;
    const listed = expectStatus(await world.service.as('owner').get(path), 200);
    return { params: { billId: listed.body.items[0].id }, lasts: true };
  },
};
