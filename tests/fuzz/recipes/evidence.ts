import { addFinding, outdoorPlate, proveCapacitor } from '../../harness/job.ts';
import { photoOf } from '../../harness/photos.ts';
import type { Recipe, World } from '../world.ts';
import { onSite } from './stages.ts';

const capacitorFinding = {
  faultCode: 'run_capacitor_herm',
  taskCode: 'replace_dual_run_capacitor',
  parts: [{ partCode: 'CAP-45-5-440', quantity: 1 }],
};

/** At the home's visit, which goes on all the time. */
const atHome =
  (bodyOf: (world: World) => Record<string, unknown>): Recipe =>
  async (world) => ({
    params: { visitId: world.home.visitId },
    body: bodyOf(world),
    lasts: true,
  });

/** Readings, observations, photos, findings. */
export const evidenceRecipes: Readonly<Record<string, Recipe>> = {
  recordReadings: atHome(({ home }) => ({
    readings: [
      {
        ...{ equipmentId: home.outdoorId, quantity: 'voltage', point: 'line_supply' },
        ...{ value: 241, unit: 'V', method: 'multimeter' },
      },
    ],
  })),
  recordObservations: atHome(({ home }) => ({
    observations: [{ equipmentId: home.outdoorId, code: 'compressor_running', answer: 'no' }],
  })),
  addPhoto: async ({ home, next }) => ({
    params: { visitId: home.visitId },
    file: { mediaType: 'image/jpeg', bytes: photoOf(`fan ${next()}`) },
    lasts: true,
  }),
  assessVisit: async ({ home }) => ({ params: { visitId: home.visitId }, lasts: true }),
  getLastGood: async ({ home }) => ({
    params: { visitId: home.visitId },
    query: { equipmentId: home.outdoorId },
    lasts: true,
  }),
  assessEvidence: async () => ({
    body: {
      machines: [{ id: 'unit', kind: 'condensing_unit', nameplate: outdoorPlate }],
      readings: [
        {
          ...{ id: 'r1', equipmentId: 'unit', quantity: 'capacitance', point: 'capacitor_herm' },
          ...{
            value: 31,
            unit: 'uF',
            method: 'capacitance_meter_disconnected',
            source: 'measured',
          },
          ...{ phase: 'found', takenAt: '2026-07-14T18:00:00Z' },
        },
      ],
      observations: [],
    },
    lasts: true,
  }),
  addFinding: async (world) => {
    const job = await onSite(world);
    await proveCapacitor(world.service, job);
    return {
      params: { visitId: job.visitId },
      body: { equipmentId: job.outdoorId, ...capacitorFinding },
      lasts: true,
    };
  },
  overrideFinding: async (world) => {
    const job = await onSite(world);
    const findingId = await addFinding(world.service, job, {
      equipmentId: job.outdoorId,
      faultCode: 'tripped_breaker',
      taskCode: 'trace_breaker_trip',
    });
    return {
      params: { findingId },
      body: { reason: 'It trips at noon.' },
      leaves: () => world.stock.onSite.push(job),
    };
  },
};
