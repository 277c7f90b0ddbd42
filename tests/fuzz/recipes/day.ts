import { company } from '../../../seed/company.ts';
import { bookJob, freeWindow, type Job } from '../../harness/job.ts';
import { expectStatus } from '../../harness/test-service.ts';
import type { Prepared, Recipe, World } from '../world.ts';
import { freshTicket } from './call.ts';
import { laterDay } from './later.ts';
import { onSite, travelling } from './stages.ts';

/** Who drives out least in these requests. */
const crew = ({ service }: World) => service.staff.second_technician.id;

/** Something of the second technician, made and then named in the address. */
async function madeOfCrew(world: World, what: string, body: object): Promise<string> {
  const path = `/v1/technicians/${crew(world)}/${what}`;
  return expectStatus(await world.service.as('owner').post(path, body), 201).body.id;
}

const away = (world: World) => {
  const day = laterDay(world.next());
  return { firstDay: day, lastDay: day, why: 'training' };
};
const along = (world: World) => {
  const day = laterDay(world.next());
  return { helperId: world.service.staff.technician.id, firstDay: day, lastDay: day };
};
const card = { kind: 'Gas card', number: 'G-1', issuedOn: '2026-01-01', expiresOn: '2027-01-01' };

const ofCrew = (world: World, body: Record<string, unknown>): Prepared => ({
  params: { technicianId: crew(world) },
  body,
});

async function bookedVisit({ service }: World): Promise<Prepared> {
  return { params: { visitId: (await bookJob(service)).visitId } };
}

const at = ({ visitId }: Job): Prepared => ({ params: { visitId } });

/** A plan of a day on which somebody is booked, which nobody has used. */
async function proposedPlan(world: World): Promise<string> {
  const { windowStart } = freeWindow();
  const windowEnd = windowStart.replace('T18', 'T20');
  await bookJob(world.service, undefined, { windowStart, windowEnd });
  const path = `/v1/days/${windowStart.slice(0, 10)}/plans`;
  return expectStatus(await world.service.as('dispatcher').post(path), 201).body.id;
}

/** Technicians, windows, visits and days. */
export const dayRecipes: Readonly<Record<string, Recipe>> = {
  // It has been said already, so that is what everybody is told who says it in order.
  setUpCompany: async () => ({ body: { ...company }, lasts: true }),
  changeCompany: async () => ({ body: { phone: '555-0190' }, lasts: true }),
  changeDispatchPolicy: async () => ({ body: { mph: 30, parkMinutes: 4 }, lasts: true }),
  changeTechnician: async (world) => ({
    ...ofCrew(world, { skills: ['cooling', 'ductless'] }),
    lasts: true,
  }),
  addWorkWeek: async (world) => {
    const hours = [{ weekday: 1, startMinute: 480, endMinute: 960 }];
    return ofCrew(world, { validFrom: laterDay(world.next()), hours });
  },
  addAbsence: async (world) => ofCrew(world, away(world)),
  withdrawAbsence: async (world) => {
    const absenceId = await madeOfCrew(world, 'absences', away(world));
    return { params: { technicianId: crew(world), absenceId } };
  },
  addCertificate: async (world) => ({ ...ofCrew(world, card), lasts: true }),
  withdrawCertificate: async (world) => {
    const certificateId = await madeOfCrew(world, 'certificates', card);
    return { params: { technicianId: crew(world), certificateId } };
  },
  addHelper: async (world) => ofCrew(world, along(world)),
  endHelper: async (world) => {
    const helperDaysId = await madeOfCrew(world, 'helpers', along(world));
    return { params: { technicianId: crew(world), helperDaysId } };
  },
  makeCalendarFeed: async ({ service }) => ({
    params: { technicianId: service.staff.technician.id },
  }),
  revokeCalendarFeed: async ({ service }) => {
    const path = `/v1/technicians/${service.staff.technician.id}/calendar-feeds`;
    const feed = expectStatus(await service.as('owner').post(path), 201);
    return { params: { feedId: feed.body.id } };
  },

  bookVisit: async (world) => ({
    body: {
      ticketId: await freshTicket(world),
      technicianId: world.service.staff.technician.id,
      ...freeWindow(),
      feeDisclosure: { toldFeeCents: 8_900, agreedBy: 'Winifred Ashgrove' },
    },
  }),
  rebookVisit: async (world) => ({
    ...(await bookedVisit(world)),
    body: { technicianId: crew(world), askedBy: 'company', reason: 'Nearer.' },
  }),
  planVisit: async ({ service }) => {
    const window = freeWindow();
    const { visitId } = await bookJob(service, undefined, window);
    const planned = { start: window.windowStart, minutes: 60 };
    return { params: { visitId }, body: { planned }, lasts: true };
  },
  startTravel: async ({ service, stock }) => {
    const job = await bookJob(service);
    return { ...at(job), leaves: () => stock.travelling.push(job) };
  },
  arrive: async (world) => {
    const job = await travelling(world);
    return { ...at(job), leaves: () => world.stock.onSite.push(job) };
  },
  getRunningLate: async (world) => ({ ...at(await travelling(world)), lasts: true }),
  finishVisit: async (world) => ({
    ...at(await onSite(world)),
    body: { ticketIs: 'waiting_for_answer' },
  }),
  reportNoAccess: async (world) => ({
    ...at(await travelling(world)),
    body: { reason: 'Nobody opens.' },
  }),
  cancelVisit: async (world) => ({
    ...(await bookedVisit(world)),
    body: { reason: 'They called it off.' },
  }),
  getVisitFee: async () => ({ query: { windowStart: '2026-07-20T18:00:00Z' }, lasts: true }),
  findWindows: async (world) => ({
    params: { ticketId: await freshTicket(world) },
    query: { from: '2026-07-15', days: '3' },
    lasts: true,
  }),
  proposeDayPlan: async () => ({ params: { day: '2026-07-21' }, lasts: true }),
  getDayPlan: async (world) => ({
    params: { dayPlanId: await proposedPlan(world) },
    lasts: true,
  }),
  listDayPlanOffers: async (world) => ({
    params: { dayPlanId: await proposedPlan(world) },
    lasts: true,
  }),
  useDayPlan: async (world) => ({
    params: { dayPlanId: await proposedPlan(world) },
    onlyNow: true,
  }),
};
