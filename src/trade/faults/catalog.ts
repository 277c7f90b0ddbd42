import { z } from 'zod';
import { keysOf } from '../words/keys-of.ts';
import { airflowFaults } from './airflow/airflow-faults.ts';
import { blowerFaults } from './blower/blower-faults.ts';
import { capacitorFaults } from './capacitor/capacitor-faults.ts';
import { compressorFaults } from './compressor/compressor-faults.ts';
import { condensateFaults } from './condensate/condensate-faults.ts';
import { contactorFaults } from './contactor/contactor-faults.ts';
import { controlFaults } from './control/control-faults.ts';
import type { Fault, FaultWords } from './fault.ts';
import { heatPumpFaults } from './heat-pump/heat-pump-faults.ts';
import { outdoorFanFaults } from './outdoor-fan/outdoor-fan-faults.ts';
import { powerFaults } from './power/power-faults.ts';
import { refrigerantFaults } from './refrigerant/refrigerant-faults.ts';

const allFaults = {
  ...powerFaults,
  ...controlFaults,
  ...condensateFaults,
  ...contactorFaults,
  ...capacitorFaults,
  ...compressorFaults,
  ...outdoorFanFaults,
  ...blowerFaults,
  ...airflowFaults,
  ...refrigerantFaults,
  ...heatPumpFaults,
} as const;

export const faultCodeSchema = z.enum(keysOf(allFaults));
export type FaultCode = z.infer<typeof faultCodeSchema>;

/** Every fault with its rules, by code; a code without a fault does not compile. */
export const faults: Record<FaultCode, Fault> = allFaults;

/** A fault as plain data, ready to be sent: what the catalog says of it, without its rules. */
export type FaultEntry = FaultWords & { code: FaultCode };

export const faultCatalog: readonly FaultEntry[] = faultCodeSchema.options.map((code) => {
  const { rules: _rules, expects: _expects, perThousand: _perThousand, ...words } = faults[code];
  return { code, ...words };
});

export function findFault(code: string): FaultEntry | undefined {
  return faultCatalog.find((fault) => fault.code === code);
}
