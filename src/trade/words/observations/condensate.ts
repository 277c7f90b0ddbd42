import type { ObservationWords } from './observation.ts';

/** Drain, pan, float switch and pump. */
export const condensateObservations = {
  drain_pan_full: {
    statement: 'The drain pan is full',
    by: 'anyone',
    about: 'machine',
    on: 'indoor',
    usually: 0.02,
    excludes: 'drain_pan_dry',
  },
  drain_pan_dry: {
    statement: 'The drain pan is dry',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.5,
  },
  drain_flows_when_tested: {
    statement: 'Water poured into the drain flows off freely',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.97,
  },
  drain_blockage_drawn_out: {
    statement: 'A blockage was drawn out of the drain',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.02,
  },
  drain_pan_cracked: {
    statement: 'The drain pan is cracked or rusted through',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.01,
  },
  float_switch_raised: {
    statement: 'The float of the switch is raised',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.02,
  },
  float_switch_moves_freely: {
    statement: 'The float of the switch moves freely',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.98,
  },
  float_trip_cause_looked_for: {
    statement: 'The cause of the open float switch was looked for',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.5,
  },
  condensate_pump_runs_when_filled: {
    statement: 'The condensate pump runs when its tank is filled',
    by: 'technician',
    about: 'machine',
    on: 'indoor',
    usually: 0.98,
  },
} as const satisfies Record<string, ObservationWords>;
