import { findFault } from './faults/catalog.ts';
import type { Remedy } from './faults/fault.ts';

/**
 * The remedy that the catalog knows for this fault and this task, or undefined: then the task may
 * not be sold under the fault. This is the only source of a remedy's class; no request carries one.
 */
export function remedyFor(faultCode: string, taskCode: string): Remedy | undefined {
  return findFault(faultCode)?.remedies.find((remedy) => remedy.task === taskCode);
}
