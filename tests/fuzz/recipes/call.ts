import { bookJob } from '../../harness/job.ts';
import { sendAnswer, startChecks } from '../../harness/phone-checks.ts';
import { expectStatus } from '../../harness/test-service.ts';
import { finishVisit } from '../../harness/work.ts';
import type { Recipe, World } from '../world.ts';
import { onSite } from './stages.ts';

/** A ticket nobody has done anything about. */
export async function freshTicket({ service, home }: World): Promise<string> {
  const call = { siteId: home.siteId, complaint: 'It blows warm air.', symptoms: ['no_cooling'] };
  return expectStatus(await service.as('dispatcher').post('/v1/tickets', call), 201).body.id;
}

async function askedTicket(world: World): Promise<string> {
  const ticketId = await freshTicket(world);
  await startChecks(world.service, ticketId);
  return ticketId;
}

const onPhone = {
  answers: [{ code: 'thermostat_calling_cooling', answer: 'no' }],
  whatHelped: 'Set to cool.',
};

/** A call back that is due, with its version. */
async function dueCall(world: World): Promise<{ id: string; version: number }> {
  const dispatcher = world.service.as('dispatcher');
  const ticketId = await freshTicket(world);
  const path = `/v1/tickets/${ticketId}`;
  const ifMatch = (await dispatcher.get(path)).headers['etag'] ?? '';
  expectStatus(await dispatcher.post(`${path}/resolve-by-phone`, onPhone, { ifMatch }), 200);
  const { rows } = await world.service.owner.query<{ id: string; version: number }>(
    'SELECT id, version FROM call_back WHERE ticket_id = $1',
    [ticketId],
  );
  const [due] = rows;
  if (due === undefined) throw new Error('no call back was promised');
  return due;
}

/** Calls, and what is tried by phone. */
export const callRecipes: Readonly<Record<string, Recipe>> = {
  findCallers: async () => ({ query: { search: 'Thistle' }, lasts: true }),
  takeCall: async () => ({
    body: {
      customer: { new: { name: 'Peregrine Holt', phone: '555-0155' } },
      site: {
        new: {
          street: '77 Gooseberry Steps',
          city: 'Wrenfield',
          region: 'QX',
          postalCode: '00000',
        },
      },
      complaint: 'It blows warm air.',
      anyway: true,
    },
    lasts: true,
  }),
  openTicket: async ({ home }) => ({
    body: { siteId: home.siteId, complaint: 'It blows warm air.' },
    lasts: true,
  }),
  resolveTicketByPhone: async (world) => ({
    params: { ticketId: await freshTicket(world) },
    body: onPhone,
  }),
  cancelTicket: async (world) => ({
    params: { ticketId: await freshTicket(world) },
    body: { reason: 'They called it off.' },
  }),
  startPhoneCheck: async (world) => ({ params: { ticketId: await freshTicket(world) }, body: {} }),
  listPhoneChecks: async (world) => ({
    params: { ticketId: await askedTicket(world) },
    lasts: true,
  }),
  answerPhoneCheck: async (world) => ({
    params: { ticketId: await askedTicket(world) },
    body: { questionCode: 'gas_smell', answer: 'no' },
  }),
  endPhoneCheck: async (world) => ({
    params: { ticketId: await askedTicket(world) },
    body: { outcome: 'broken_off', note: 'The line went dead.' },
  }),
  recordDangerOver: async (world) => {
    const ticketId = await askedTicket(world);
    expectStatus(await sendAnswer(world.service, ticketId, ['gas_smell', 'yes']), 200);
    return { params: { ticketId }, body: { note: 'The gas company closed the valve.' } };
  },
  makeCallBack: async (world) => {
    const { id, version } = await dueCall(world);
    return {
      params: { callBackId: id },
      body: { outcome: 'still_fine' },
      ifMatch: `"v${version}"`,
    };
  },
  getPriority: async (world) => ({ params: { ticketId: await freshTicket(world) }, lasts: true }),
  overridePriority: async (world) => ({
    params: { ticketId: await freshTicket(world) },
    body: { rank: 1, reason: 'Somebody is ill.' },
    lasts: true,
  }),
  recordWeather: async () => ({
    params: { day: '2026-07-15' },
    body: { highDegF: 101 },
    lasts: true,
  }),
  getWeather: async ({ service }) => {
    const path = '/v1/days/2026-07-16/weather';
    expectStatus(await service.as('dispatcher').post(path, { highDegF: 99 }), 200);
    return { params: { day: '2026-07-16' }, lasts: true };
  },
  promisePart: async (world) => {
    const job = await onSite(world);
    await finishVisit(world.service, job.visitId, 'waiting_for_part');
    return {
      params: { ticketId: job.ticketId },
      body: { what: 'The blower motor', promisedOn: '2027-03-09', toldTo: 'Winifred Ashgrove' },
      lasts: true,
    };
  },
  glanceAtSite: async ({ service }) => ({
    params: { siteId: (await bookJob(service)).siteId },
    lasts: true,
  }),
};
