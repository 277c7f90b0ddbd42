import { z } from 'zod';
import { keysOf } from './keys-of.ts';

/**
 * A thing that is seen, heard or tried, answered yes, no or unknown. `statement` is what a yes
 * says. `by` tells who may ever be asked for it: a homeowner opens no panel, touches no capacitor
 * and pushes in no contactor.
 */
type ObservationWords = { statement: string; by: 'anyone' | 'technician' };

export const observationWords = {
  thermostat_calling_cooling: { statement: 'The thermostat calls for cooling', by: 'anyone' },
  indoor_fan_running: { statement: 'The indoor fan runs', by: 'anyone' },
  outdoor_fan_running: { statement: 'The outdoor fan runs', by: 'anyone' },
  outdoor_fan_hums: { statement: 'The outdoor fan only hums', by: 'anyone' },
  compressor_running: { statement: 'The compressor runs', by: 'technician' },
  compressor_hums: { statement: 'The compressor only hums', by: 'technician' },
  capacitor_herm_bulged_or_leaking: {
    statement: 'The capacitor that serves the compressor is bulged or leaking',
    by: 'technician',
  },
  capacitor_fan_bulged_or_leaking: {
    statement: 'The capacitor that serves the outdoor fan is bulged or leaking',
    by: 'technician',
  },
  contactor_pulled_in: { statement: 'The contactor is pulled in', by: 'technician' },
  contactor_by_hand_both_start: {
    statement: 'With the contactor pushed in by hand both motors start',
    by: 'technician',
  },
  contactor_contacts_pitted: {
    statement: 'The contacts of the contactor are pitted or burnt',
    by: 'technician',
  },
  contactor_coil_reads_open: {
    statement: 'The isolated coil of the contactor reads open (OL)',
    by: 'technician',
  },
  breaker_found_tripped: { statement: 'The breaker was found tripped', by: 'anyone' },
  breaker_trips_again: { statement: 'The breaker trips again after a reset', by: 'anyone' },
  breaker_trip_cause_looked_for: {
    statement: 'The cause of the breaker trip was looked for',
    by: 'technician',
  },
  control_fuse_reads_open: {
    statement: 'The control fuse, pulled from the board, reads open (OL)',
    by: 'technician',
  },
  control_fuse_seen_blown: {
    statement: 'The element of the control fuse is seen to be blown',
    by: 'technician',
  },
  control_short_looked_for: {
    statement: 'The short that opened the control fuse was looked for',
    by: 'technician',
  },
  drain_pan_full: { statement: 'The drain pan is full', by: 'anyone' },
  drain_pan_dry: { statement: 'The drain pan is dry', by: 'technician' },
  drain_flows_when_tested: {
    statement: 'Water poured into the drain flows off freely',
    by: 'technician',
  },
  drain_blockage_drawn_out: {
    statement: 'A blockage was drawn out of the drain',
    by: 'technician',
  },
  float_switch_raised: { statement: 'The float of the switch is raised', by: 'technician' },
  float_trip_cause_looked_for: {
    statement: 'The cause of the open float switch was looked for',
    by: 'technician',
  },
} as const satisfies Record<string, ObservationWords>;

export const observationCodeSchema = z.enum(keysOf(observationWords));
export type ObservationCode = z.infer<typeof observationCodeSchema>;
