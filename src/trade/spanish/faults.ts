import type { FaultCode } from '../faults/catalog.ts';
import type { FaultInSpanish } from './fault-in-spanish.ts';
import { airflowFaults } from './faults/airflow.ts';
import { capacitorFaults } from './faults/capacitor.ts';
import { compressorFaults } from './faults/compressor.ts';
import { condensateFaults } from './faults/condensate.ts';
import { contactorFaults } from './faults/contactor.ts';
import { controlFaults } from './faults/control.ts';
import { heatPumpFaults } from './faults/heat-pump.ts';
import { motorFaults } from './faults/motors.ts';
import { powerFaults } from './faults/power.ts';
import { refrigerantFaults } from './faults/refrigerant.ts';

/** Every fault of the catalog in Spanish; one that is missing does not compile. */
export const faultsInSpanish: Record<FaultCode, FaultInSpanish> = {
  ...powerFaults,
  ...controlFaults,
  ...condensateFaults,
  ...contactorFaults,
  ...capacitorFaults,
  ...compressorFaults,
  ...motorFaults,
  ...airflowFaults,
  ...refrigerantFaults,
  ...heatPumpFaults,
};
