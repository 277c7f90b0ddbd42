import type { ObservationWords } from './observation.ts';

/** What runs and what does not. */
export const runningObservations = {
  thermostat_calling_cooling: {
    statement: 'The thermostat calls for cooling',
    by: 'anyone',
    about: 'system',
    on: 'indoor',
    usually: 0.93,
  },
  indoor_fan_running: {
    statement: 'The indoor fan runs',
    by: 'anyone',
    about: 'system',
    on: 'indoor',
    usually: 0.9,
  },
  outdoor_fan_running: {
    statement: 'The outdoor fan runs',
    by: 'anyone',
    about: 'machine',
    on: 'outdoor',
    usually: 0.8,
  },
  outdoor_fan_hums: {
    statement: 'The outdoor fan only hums',
    by: 'anyone',
    about: 'machine',
    on: 'outdoor',
    usually: 0.01,
  },
  compressor_running: {
    statement: 'The compressor runs',
    by: 'technician',
    about: 'machine',
    on: 'outdoor',
    usually: 0.8,
  },
  compressor_hums: {
    statement: 'The compressor only hums',
    by: 'technician',
    about: 'machine',
    on: 'outdoor',
    usually: 0.02,
  },
} as const satisfies Record<string, ObservationWords>;
