import type { ObservationWords } from './observation.ts';

/** Filter, coils, ducts and ice. */
export const airflowObservations = {
  filter_dirty: {
    statement: 'The filter is dirty',
    by: 'anyone',
    about: 'system',
    on: 'indoor',
    usually: 0.15,
  },
  indoor_coil_dirty: {
    statement: 'The face of the indoor coil is dirty',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.08,
  },
  blower_wheel_dirty: {
    statement: 'The blades of the blower wheel are caked with dirt',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.05,
  },
  registers_closed: {
    statement: 'Registers or returns are closed or covered',
    by: 'anyone',
    about: 'house',
    on: 'indoor',
    usually: 0.05,
  },
  duct_blocked_or_loose: {
    statement: 'A duct is crushed, blocked or come loose',
    by: 'technician',
    about: 'house',
    on: 'indoor',
    usually: 0.03,
  },
  ice_on_coil_or_line: {
    statement: 'There is ice on the indoor coil or the suction line',
    by: 'anyone',
    about: 'system',
    on: 'indoor',
    usually: 0.02,
  },
  ice_cause_looked_for: {
    statement: 'What made the ice was looked for',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.5,
  },
  ice_melted_before_measuring: {
    statement: 'No ice was left when the circuit was measured',
    by: 'technician',
    about: 'system',
    on: 'indoor',
    usually: 0.9,
  },
  outdoor_coil_dirty: {
    statement: 'The outdoor coil is matted with dirt',
    by: 'anyone',
    about: 'machine',
    on: 'outdoor',
    usually: 0.1,
  },
  outdoor_coil_cleared_pressure_fell: {
    statement: 'With the outdoor coil clear the head pressure fell',
    by: 'technician',
    about: 'machine',
    on: 'outdoor',
    usually: 0.05,
  },
} as const satisfies Record<string, ObservationWords>;
