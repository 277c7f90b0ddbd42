import type { Day, MendedMachine } from './facts.ts';

/** A warranty as recorded. Its last day still counts, so it can run with no day left. */
export interface Warranty {
  until: Day;
  runs: boolean;
  /** Days after today that it still runs; 0 once it has ended. */
  daysLeft: number;
}

/** The recorded warranties of a machine; null where none is recorded. */
export function warrantiesOf(machine: MendedMachine) {
  return {
    parts: warrantyUntil(machine.partsWarrantyUntil, machine.today),
    compressor: warrantyUntil(machine.compressorWarrantyUntil, machine.today),
    labor: warrantyUntil(machine.laborWarrantyUntil, machine.today),
  };
}

function warrantyUntil(until: Day | undefined, today: Day): Warranty | null {
  if (until === undefined) return null;
  const days = Math.round((Date.parse(until) - Date.parse(today)) / dayMilliseconds);
  return { until, runs: days >= 0, daysLeft: Math.max(0, days) };
}

const dayMilliseconds = 86_400_000;
