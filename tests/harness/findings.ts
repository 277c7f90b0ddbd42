import { addFinding, type Job } from './job.ts';
import { expectStatus, type TestService } from './test-service.ts';

/** What a technician records in one go. */
export interface Evidence {
  readings?: object[];
  observations?: object[];
}

/** Records readings and observations at a job, as its technician. */
export async function record(
  service: TestService,
  { visitId }: Job,
  { readings, observations }: Evidence,
): Promise<void> {
  const technician = service.as('technician');
  if (readings !== undefined) {
    expectStatus(await technician.post(`/v1/visits/${visitId}/readings`, { readings }), 201);
  }
  if (observations !== undefined) {
    const path = `/v1/visits/${visitId}/observations`;
    expectStatus(await technician.post(path, { observations }), 201);
  }
}

/** A proven tripped breaker of the outdoor unit, to be reset. */
export async function findTrippedBreaker(service: TestService, job: Job): Promise<string> {
  await record(service, job, {
    observations: [{ equipmentId: job.outdoorId, code: 'breaker_found_tripped', answer: 'yes' }],
  });
  return addFinding(service, job, {
    equipmentId: job.outdoorId,
    faultCode: 'tripped_breaker',
    taskCode: 'reset_breaker',
  });
}

/** A proven open control fuse with the fuse that goes in. */
export async function findOpenFuse(service: TestService, job: Job): Promise<string> {
  await record(service, job, {
    observations: [{ equipmentId: job.indoorId, code: 'control_fuse_reads_open', answer: 'yes' }],
  });
  return addFinding(service, job, {
    equipmentId: job.indoorId,
    faultCode: 'open_control_fuse',
    taskCode: 'replace_control_fuse',
    parts: [{ partCode: 'FUSE-3A', quantity: 1 }],
  });
}

/** A proven open float switch, to be reset. */
export async function findOpenFloatSwitch(service: TestService, job: Job): Promise<string> {
  const at = { equipmentId: job.indoorId, quantity: 'voltage', unit: 'V', method: 'multimeter' };
  await record(service, job, {
    readings: [
      { ...at, point: 'float_switch_in', value: 26.4 },
      { ...at, point: 'float_switch_out', value: 0 },
    ],
    observations: [
      { equipmentId: job.indoorId, code: 'thermostat_calling_cooling', answer: 'yes' },
    ],
  });
  return addFinding(service, job, {
    equipmentId: job.indoorId,
    faultCode: 'open_float_switch',
    taskCode: 'reset_float_switch',
  });
}

/** A proven plugged drain, to be cleared. */
export async function findPluggedDrain(service: TestService, job: Job): Promise<string> {
  const at = { equipmentId: job.indoorId };
  await record(service, job, {
    observations: [
      { ...at, code: 'drain_pan_full', answer: 'yes' },
      { ...at, code: 'drain_flows_when_tested', answer: 'no' },
    ],
  });
  return addFinding(service, job, {
    equipmentId: job.indoorId,
    faultCode: 'plugged_drain',
    taskCode: 'clear_condensate_drain',
  });
}

/** A proven worn contactor, its coil voltage measured, with the contactor that goes in. */
export async function findWornContactor(service: TestService, job: Job): Promise<string> {
  const at = { equipmentId: job.outdoorId, quantity: 'voltage', unit: 'V', method: 'multimeter' };
  await record(service, job, {
    readings: [
      { ...at, point: 'contactor_pole_1', value: 4.2 },
      { ...at, point: 'contactor_coil', value: 25.1 },
    ],
    observations: [{ equipmentId: job.outdoorId, code: 'contactor_pulled_in', answer: 'yes' }],
  });
  return addFinding(service, job, {
    equipmentId: job.outdoorId,
    faultCode: 'worn_contactor',
    taskCode: 'replace_contactor',
    parts: [{ partCode: 'CON-2P-30-24', quantity: 1 }],
  });
}

/** Facts of the plate that a weighed charge is held against, with what is asked for at 35 ft. */
export const chargedPlate = {
  meteringDevice: 'txv',
  targetSubcoolingDegF: 10,
  factoryChargeOz: 104,
  lineSetIncludedFt: 15,
  lineSetOzPerFt: 0.6,
} as const;

/**
 * Records that 80 of 116 ounces were recovered, with all that has to be looked at before the charge
 * may be blamed.
 */
export async function proveLowCharge(service: TestService, job: Job): Promise<void> {
  const at = { equipmentId: job.outdoorId };
  await record(service, job, {
    readings: [
      {
        ...at,
        point: 'recovered_charge',
        quantity: 'mass',
        method: 'refrigerant_scale',
        value: 80,
        unit: 'oz',
      },
      {
        ...at,
        point: 'line_set',
        quantity: 'length',
        method: 'tape_measure',
        value: 35,
        unit: 'ft',
      },
      {
        equipmentId: job.indoorId,
        point: 'supply_air',
        quantity: 'temperature',
        method: 'thermometer',
        value: 58,
        unit: 'F',
      },
    ],
    observations: [
      { equipmentId: job.indoorId, code: 'filter_dirty', answer: 'no' },
      { equipmentId: job.indoorId, code: 'ice_on_coil_or_line', answer: 'no' },
      { ...at, code: 'refrigerant_leak_looked_for', answer: 'yes' },
    ],
  });
}

/** A proven low charge with what is missing: 36 ounces, two and a quarter pounds. */
export async function findLowCharge(service: TestService, job: Job): Promise<string> {
  await proveLowCharge(service, job);
  return addFinding(service, job, {
    equipmentId: job.outdoorId,
    faultCode: 'low_charge',
    taskCode: 'add_refrigerant',
    parts: [{ partCode: 'REF-R-410A', measured: '2.25' }],
  });
}
