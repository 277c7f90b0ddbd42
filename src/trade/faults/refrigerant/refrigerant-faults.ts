import type { Fault } from '../fault.ts';
import { dirtyOutdoorCoil } from './dirty-outdoor-coil.ts';
import { failedMeteringDevice } from './failed-metering-device.ts';
import { liquidLineRestriction } from './liquid-line-restriction.ts';
import { looseSensingBulb } from './loose-sensing-bulb.ts';
import { lowCharge } from './low-charge.ts';
import { overcharge } from './overcharge.ts';
import { refrigerantLeak } from './refrigerant-leak.ts';
import { wrongRefrigerant } from './wrong-refrigerant.ts';

export const refrigerantFaults = {
  low_charge: lowCharge,
  overcharge,
  refrigerant_leak: refrigerantLeak,
  liquid_line_restriction: liquidLineRestriction,
  failed_metering_device: failedMeteringDevice,
  loose_sensing_bulb: looseSensingBulb,
  dirty_outdoor_coil: dirtyOutdoorCoil,
  wrong_refrigerant: wrongRefrigerant,
} as const satisfies Record<string, Fault>;
