import { addSite, outdoorPlate } from '../../harness/job.ts';
import { lookAfter, type Terms } from '../../harness/maintenance.ts';
import { expectStatus } from '../../harness/test-service.ts';
import type { Recipe, World } from '../world.ts';

const terms: Terms = { startsOn: '2026-01-01', endsOn: '2027-01-01', months: [4, 6, 9] };

const agreed = async ({ service }: World): Promise<string> =>
  (await lookAfter(service, terms)).agreementId;

/** Customers, their homes, machines and agreements. */
export const homeRecipes: Readonly<Record<string, Recipe>> = {
  addCustomer: async () => ({
    body: { name: 'Winifred Ashgrove', phone: '555-0111' },
    lasts: true,
  }),
  changeCustomer: async ({ home }) => ({
    params: { customerId: home.customerId },
    body: { name: 'Winifred Ashgrove' },
    lasts: true,
  }),
  eraseCustomer: async ({ service }) => {
    const person = { name: 'Peregrine Holt', phone: '555-0155' };
    const added = await service.as('dispatcher').post('/v1/customers', person);
    return {
      params: { customerId: expectStatus(added, 201).body.id },
      body: { reason: 'Peregrine Holt asked for it in a letter.' },
    };
  },
  addSite: async ({ home }) => ({
    body: {
      ...{ street: '3 Thistle Court', city: 'Wrenfield', region: 'QX', postalCode: '00000' },
      occupantId: home.customerId,
    },
    lasts: true,
  }),
  changeSite: async ({ home }) => ({
    params: { siteId: home.siteId },
    body: { accessNotes: 'The gate is round the back.' },
    lasts: true,
  }),
  addSystem: async ({ home }) => ({
    params: { siteId: home.siteId },
    body: { name: 'Upstairs' },
    lasts: true,
  }),
  addEquipment: async ({ home }) => ({
    params: { systemId: home.systemId },
    body: { kind: 'condensing_unit', nameplate: outdoorPlate },
    lasts: true,
  }),
  changeEquipment: async ({ home }) => ({
    params: { equipmentId: home.outdoorId },
    body: { maker: 'Invented Works', partsWarrantyUntil: '2030-06-30' },
    lasts: true,
  }),
  addAgreement: async ({ service }) => ({
    params: { siteId: (await addSite(service)).siteId },
    body: {
      ...{ planCode: 'two_visits', startsOn: '2026-01-01', endsOn: '2027-01-01' },
      agreedByName: 'Winifred Ashgrove',
    },
  }),
  getAgreement: async (world) => ({ params: { agreementId: await agreed(world) }, lasts: true }),
  endAgreement: async (world) => ({
    params: { agreementId: await agreed(world) },
    body: { endsOn: '2026-08-01' },
  }),
  getMaintenance: async (world) => ({ params: { agreementId: await agreed(world) }, lasts: true }),
  setMaintenance: async (world) => ({
    params: { agreementId: await agreed(world) },
    body: { months: [3, 10], minutes: 60 },
    lasts: true,
  }),
  openMaintenance: async (world) => ({
    body: { agreementId: await agreed(world), dueMonth: '2026-06' },
  }),
};
