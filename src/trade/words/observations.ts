import { z } from 'zod';
import { keysOf } from './keys-of.ts';

/**
 * A thing that is seen, heard or tried, answered yes, no or unknown. `statement` is what a yes
 * says. `by` tells who may ever be asked for it: a homeowner opens no panel, touches no capacitor
 * and pushes in no contactor. `about` tells whether it is seen on one machine, and then counts for
 * that one alone, or holds for the house. `visitDue` marks a yes that no phone call may end with.
 */
type ObservationWords = {
  statement: string;
  by: 'anyone' | 'technician';
  about: 'machine' | 'house';
  visitDue?: true;
};

export const observationWords = {
  thermostat_calling_cooling: {
    statement: 'The thermostat calls for cooling',
    by: 'anyone',
    about: 'house',
  },
  indoor_fan_running: { statement: 'The indoor fan runs', by: 'anyone', about: 'house' },
  outdoor_fan_running: { statement: 'The outdoor fan runs', by: 'anyone', about: 'machine' },
  outdoor_fan_hums: { statement: 'The outdoor fan only hums', by: 'anyone', about: 'machine' },
  compressor_running: { statement: 'The compressor runs', by: 'technician', about: 'machine' },
  compressor_hums: { statement: 'The compressor only hums', by: 'technician', about: 'machine' },
  capacitor_herm_bulged_or_leaking: {
    statement: 'The capacitor that serves the compressor is bulged or leaking',
    by: 'technician',
    about: 'machine',
  },
  capacitor_fan_bulged_or_leaking: {
    statement: 'The capacitor that serves the outdoor fan is bulged or leaking',
    by: 'technician',
    about: 'machine',
  },
  contactor_pulled_in: {
    statement: 'The contactor is pulled in',
    by: 'technician',
    about: 'machine',
  },
  contactor_by_hand_both_start: {
    statement: 'With the contactor pushed in by hand both motors start',
    by: 'technician',
    about: 'machine',
  },
  contactor_contacts_pitted: {
    statement: 'The contacts of the contactor are pitted or burnt',
    by: 'technician',
    about: 'machine',
  },
  contactor_coil_reads_open: {
    statement: 'The isolated coil of the contactor reads open (OL)',
    by: 'technician',
    about: 'machine',
  },
  breaker_found_tripped: {
    statement: 'The breaker was found tripped',
    by: 'anyone',
    about: 'machine',
  },
  breaker_trips_again: {
    statement: 'The breaker trips again after a reset',
    by: 'anyone',
    about: 'machine',
    visitDue: true,
  },
  breaker_trip_cause_looked_for: {
    statement: 'The cause of the breaker trip was looked for',
    by: 'technician',
    about: 'machine',
  },
  control_fuse_reads_open: {
    statement: 'The control fuse, pulled from the board, reads open (OL)',
    by: 'technician',
    about: 'machine',
  },
  control_fuse_seen_blown: {
    statement: 'The element of the control fuse is seen to be blown',
    by: 'technician',
    about: 'machine',
  },
  control_short_looked_for: {
    statement: 'The short that opened the control fuse was looked for',
    by: 'technician',
    about: 'machine',
  },
  drain_pan_full: { statement: 'The drain pan is full', by: 'anyone', about: 'machine' },
  drain_pan_dry: { statement: 'The drain pan is dry', by: 'technician', about: 'machine' },
  drain_flows_when_tested: {
    statement: 'Water poured into the drain flows off freely',
    by: 'technician',
    about: 'machine',
  },
  drain_blockage_drawn_out: {
    statement: 'A blockage was drawn out of the drain',
    by: 'technician',
    about: 'machine',
  },
  float_switch_raised: {
    statement: 'The float of the switch is raised',
    by: 'technician',
    about: 'machine',
  },
  float_trip_cause_looked_for: {
    statement: 'The cause of the open float switch was looked for',
    by: 'technician',
    about: 'machine',
  },
} as const satisfies Record<string, ObservationWords>;

export const observationCodeSchema = z.enum(keysOf(observationWords));
export type ObservationCode = z.infer<typeof observationCodeSchema>;
