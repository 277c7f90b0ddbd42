import { pino } from 'pino';
import { consumerRules } from '../../seed/consumer-rules.ts';
import { arriveAtJob } from '../harness/job.ts';
import { openDays } from '../harness/open-days.ts';
import { openShop } from '../harness/shop.ts';
import { createTestService, expectStatus } from '../harness/test-service.ts';
import { KnownThings } from './known-things.ts';
import type { Operation } from './read-contract.ts';
import { emptyStock } from './recipes/stages.ts';
import type { World } from './world.ts';

/** A company that is open: staff, a price book, rules, parts on shelves, and one visit going on. */
export async function openWorld(operations: readonly Operation[]): Promise<World> {
  const mistakes: string[] = [];
  const log = pino({ level: 'error' }, { write: (line) => mistakes.push(line) });
  const service = await createTestService({ log });
  const known = new KnownThings(operations);
  const { shelvesId, truckId, otherTruckId } = await openShop(service);
  for (const rule of consumerRules) {
    expectStatus(await service.as('owner').post('/v1/consumer-rules', rule), 201);
  }
  await openDays(service);
  const job = await arriveAtJob(service);
  for (const id of [shelvesId, truckId, otherTruckId]) known.add('stock-places', id);
  for (const { id } of Object.values(service.staff)) known.add('staff', id);
  known.add('technicians', service.staff.technician.id);
  known.add('technicians', service.staff.second_technician.id);
  known.add('customers', job.customerId);
  known.add('sites', job.siteId);
  known.add('systems', job.systemId);
  known.add('equipment', job.outdoorId);
  known.add('equipment', job.indoorId);
  known.add('tickets', job.ticketId);
  known.add('visits', job.visitId);
  let count = 0;
  const next = () => {
    count += 1;
    return count;
  };
  const made = new Map<string, unknown>();
  const once = async <T>(name: string, make: () => Promise<T>): Promise<T> => {
    // Only this function writes here, and one name is always made by one maker.
    if (!made.has(name)) made.set(name, await make());
    return made.get(name) as T;
  };
  const home = { ...job, shelvesId, truckId };
  return { service, known, home, next, once, mistakes, stock: emptyStock() };
}
