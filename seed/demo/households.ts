import { company, depot } from '../company.ts';
import type { ApiClient } from './api-client.ts';
import { airHandler, outdoorUnit } from './people.ts';

/** Invented people of the hottest day, where they live and what they say on the phone. */
export const households = {
  typo: {
    ...{ name: 'Tilda Brocklesby', phone: '555-0161', street: '4 Foundry Lane' },
    ...{ milesNorth: 2, milesEast: 1 },
    complaint: 'The fan outside hums and does not turn.',
  },
  danger: {
    ...{ name: 'Egbert Dunmallow', phone: '555-0162', street: '30 Chapel Rise' },
    ...{ milesNorth: -3, milesEast: 4 },
    complaint: 'It does not cool, and there is a smell in the hall.',
  },
  frail: {
    ...{ name: 'Rosalind Thackeray-Hume', phone: '555-0163', street: '9 Heron Bank' },
    ...{ milesNorth: 5, milesEast: -2 },
    complaint: 'No cooling since this morning. My mother is 91 and on oxygen.',
  },
  north: {
    ...{ name: 'Cornelius Abernale', phone: '555-0164', street: '61 Quarry Road' },
    ...{ milesNorth: 7, milesEast: 3 },
    complaint: 'Upstairs stays warm whatever we set.',
  },
  south: {
    ...{ name: 'Imelda Farthingale', phone: '555-0165', street: '17 Ropewalk' },
    ...{ milesNorth: -5, milesEast: -1 },
    complaint: 'Ice on the pipe outside.',
  },
} as const satisfies Record<string, Household>;

export interface Household {
  name: string;
  phone: string;
  street: string;
  /** From the depot, as the crow flies. */
  milesNorth: number;
  milesEast: number;
  complaint: string;
}

/** Puts these households on record with their machines, unless an earlier demo did. */
export async function knowHouseholds(dispatcher: ApiClient): Promise<void> {
  for (const household of Object.values(households)) {
    const found = await dispatcher.get(`/v1/callers?search=${household.phone}`);
    // Where nobody has this number, those with one like it are told.
    const names = found.body.items.map(({ name }: { name: string }) => name);
    if (!names.includes(household.name)) await addHousehold(dispatcher, household);
  }
}

async function addHousehold(
  dispatcher: ApiClient,
  { name, phone, street, milesNorth, milesEast }: Household,
): Promise<void> {
  const customer = await dispatcher.post('/v1/customers', { name, phone });
  const { city, region, postalCode } = company;
  const site = await dispatcher.post('/v1/sites', {
    ...{ street, city, region, postalCode, occupantId: customer.body.id },
    place: {
      latitudeDeg: depot.latitudeDeg + milesNorth / MILES_A_DEGREE,
      longitudeDeg:
        depot.longitudeDeg +
        milesEast / (MILES_A_DEGREE * Math.cos((depot.latitudeDeg * Math.PI) / 180)),
    },
  });
  const systems = `/v1/sites/${site.body.id}/systems`;
  const system = await dispatcher.post(systems, { name: 'Whole house' });
  for (const machine of [outdoorUnit, airHandler]) {
    await dispatcher.post(`/v1/systems/${system.body.id}/equipment`, machine);
  }
}

/** Of latitude: the circumference of the earth by 360. */
const MILES_A_DEGREE = 24_901 / 360;
