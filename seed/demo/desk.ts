import { DateTime } from 'luxon';
import { company } from '../company.ts';
import { type Answer, type ApiClient, Refused } from './api-client.ts';
import { airHandler, type Caller, outdoorUnit } from './people.ts';

/** A ticket with the home it is about. */
export interface Call {
  caller: Caller;
  ticket: Answer;
  systemId: string;
  outdoorId: string;
  indoorId: string;
}

/** Takes a call as the dispatcher does: customer, site, equipment, ticket. */
export async function takeCall(dispatcher: ApiClient, caller: Caller): Promise<Call> {
  const { street, complaint, landlord, ...reachable } = caller;
  const customer = await dispatcher.post('/v1/customers', reachable);
  const owner = landlord && (await dispatcher.post('/v1/customers', landlord));
  const site = await dispatcher.post('/v1/sites', {
    street,
    city: company.city,
    region: company.region,
    postalCode: company.postalCode,
    occupantId: customer.body.id,
    ...(owner !== undefined && { approverId: owner.body.id, payerId: owner.body.id }),
  });
  const system = await dispatcher.post(`/v1/sites/${site.body.id}/systems`, {
    name: 'Whole house',
  });
  const equipment = `/v1/systems/${system.body.id}/equipment`;
  const outdoor = await dispatcher.post(equipment, outdoorUnit);
  const indoor = await dispatcher.post(equipment, airHandler);
  const ticket = await dispatcher.post('/v1/tickets', {
    siteId: site.body.id,
    complaint,
    symptoms: ['no_cooling'],
  });
  return {
    caller,
    ticket,
    systemId: system.body.id,
    outdoorId: outdoor.body.id,
    indoorId: indoor.body.id,
  };
}

/**
 * Books the technician into the first free arrival window from one in the afternoon, today if it
 * is a working day and not yet three. The fee is told and agreed to first.
 */
export async function bookVisit(
  dispatcher: ApiClient,
  call: Call,
  technicianId: string,
): Promise<Answer> {
  for (const window of afternoons()) {
    const fee = await dispatcher.get(`/v1/visit-fee?windowStart=${window.windowStart}`);
    try {
      return await dispatcher.post('/v1/visits', {
        ticketId: call.ticket.body.id,
        technicianId,
        ...window,
        feeDisclosure: { toldFeeCents: fee.body.feeCents, agreedBy: call.caller.name },
      });
    } catch (error) {
      if (!(error instanceof Refused) || error.code !== 'window-taken') throw error;
    }
  }
  throw new Error('the technician is booked for weeks');
}

function* afternoons(): Generator<{ windowStart: string; windowEnd: string }> {
  const now = DateTime.now().setZone(company.timeZone);
  const today = now.startOf('day');
  for (let day = 0; day < 60; day += 1) {
    const start = today.plus({ days: day }).set({ hour: 13 });
    if (start.weekday === 7) continue; // Sundays are after hours; this is an ordinary afternoon.
    const end = start.plus({ hours: 2 });
    if (end <= now) continue; // Late in the day, today's afternoon is over.
    yield { windowStart: instant(start), windowEnd: instant(end) };
  }
}

function instant(time: DateTime): string {
  return time.toUTC().toFormat("yyyy-MM-dd'T'HH:mm:ss'Z'");
}
