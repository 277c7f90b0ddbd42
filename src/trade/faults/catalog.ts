import { z } from 'zod';
import { keysOf } from '../words/keys-of.ts';
import { capacitorFaults } from './capacitors.ts';
import { condensateFaults } from './condensate.ts';
import { contactorFaults } from './contactor.ts';
import { controlCircuitFaults } from './control-circuit.ts';
import type { Fault, FaultWords } from './fault.ts';
import { powerFaults } from './power.ts';

const allFaults = {
  ...powerFaults,
  ...controlCircuitFaults,
  ...condensateFaults,
  ...contactorFaults,
  ...capacitorFaults,
} as const;

export const faultCodeSchema = z.enum(keysOf(allFaults));
export type FaultCode = z.infer<typeof faultCodeSchema>;

/** Every fault with its rules, by code; a code without a fault does not compile. */
export const faults: Record<FaultCode, Fault> = allFaults;

/** A fault as plain data, ready to be sent: what the catalog says of it, without its rules. */
export type FaultEntry = FaultWords & { code: FaultCode };

export const faultCatalog: readonly FaultEntry[] = faultCodeSchema.options.map((code) => {
  const { rules: _rules, ...words } = faults[code];
  return { code, ...words };
});

export function findFault(code: string): FaultEntry | undefined {
  return faultCatalog.find((fault) => fault.code === code);
}
