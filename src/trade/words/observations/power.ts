import type { ObservationWords } from './observation.ts';

/** From the panel to the machine. */
export const powerObservations = {
  breaker_found_tripped: {
    statement: 'The breaker was found tripped',
    by: 'anyone',
    about: 'machine',
    on: 'any',
    usually: 0.02,
  },
  breaker_trips_again: {
    statement: 'The breaker trips again after a reset',
    by: 'anyone',
    about: 'machine',
    on: 'any',
    usually: 0.01,
    visitDue: true,
  },
  breaker_trip_cause_looked_for: {
    statement: 'The cause of the breaker trip was looked for',
    by: 'technician',
    about: 'machine',
    on: 'any',
    usually: 0.5,
  },
  breaker_holds_under_load: {
    statement: 'The breaker holds with everything running',
    by: 'technician',
    about: 'machine',
    on: 'any',
    usually: 0.97,
  },
  breaker_hot_or_buzzing: {
    statement: 'The breaker is hot or buzzes',
    by: 'technician',
    about: 'machine',
    on: 'any',
    usually: 0.01,
  },
  disconnect_found_open: {
    statement: 'The disconnect was found off or pulled',
    by: 'technician',
    about: 'machine',
    on: 'any',
    usually: 0.01,
  },
  disconnect_cause_looked_for: {
    statement: 'Why the disconnect was off was asked and looked for',
    by: 'technician',
    about: 'machine',
    on: 'any',
    usually: 0.5,
  },
  disconnect_fuse_reads_open: {
    statement: 'A fuse of the disconnect, pulled out, reads open (OL)',
    by: 'technician',
    about: 'machine',
    on: 'any',
    usually: 0.01,
  },
  disconnect_fuse_cause_looked_for: {
    statement: 'What opened the fuse of the disconnect was looked for',
    by: 'technician',
    about: 'machine',
    on: 'any',
    usually: 0.5,
  },
  line_connection_burnt: {
    statement: 'A line connection is burnt or discolored',
    by: 'technician',
    about: 'machine',
    on: 'any',
    usually: 0.03,
  },
} as const satisfies Record<string, ObservationWords>;
