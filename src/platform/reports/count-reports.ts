import { Counter, type Registry } from 'prom-client';
import type { ReportsDeps } from './open-reports.ts';

/** Counts reports by where they are read. */
export function countReports(registry: Registry): ReportsDeps['onRead'] {
  const reports = new Counter({
    name: 'evenhand_reports_read_total',
    help: 'Reports by the database they were read from; what a replica gave up counts for both.',
    labelNames: ['from'] as const,
    registers: [registry],
  });
  // Both are there from the start, so that a rate can be told of the first one too.
  for (const from of ['replica', 'main']) reports.inc({ from }, 0);
  return (from) => reports.inc({ from });
}
