import { record } from './findings.ts';
import { addFinding, type Job } from './job.ts';
import type { TestService } from './test-service.ts';

/** What proves a grounded compressor, its windings measured with the leads off. */
export async function proveGroundedCompressor(service: TestService, job: Job): Promise<void> {
  const at = {
    equipmentId: job.outdoorId,
    quantity: 'resistance',
    unit: 'Ohm',
    method: 'multimeter',
  };
  await record(service, job, {
    readings: [
      { ...at, point: 'compressor_to_ground', value: 12 },
      { ...at, point: 'compressor_c_to_r', value: 0.9 },
    ],
  });
}

/** A proven grounded compressor, to be mended by a new compressor. */
export function findCompressor(service: TestService, job: Job): Promise<string> {
  return addFinding(service, job, {
    equipmentId: job.outdoorId,
    faultCode: 'compressor_grounded',
    taskCode: 'replace_compressor',
    parts: [{ partCode: 'CMP-36', quantity: 1 }],
  });
}

/** The same fault, to be mended by a new outdoor unit. */
export function findOutdoorUnit(
  service: TestService,
  job: Job,
  partCode = 'OUT-410A-36',
): Promise<string> {
  return addFinding(service, job, {
    equipmentId: job.outdoorId,
    faultCode: 'compressor_grounded',
    taskCode: 'replace_outdoor_unit',
    parts: [{ partCode, quantity: 1 }],
  });
}
