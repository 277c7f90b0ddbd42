import type {
  FaultCode,
  MethodCode,
  Nameplate,
  ObservationCode,
  PointCode,
  Quantity,
  TaskCode,
} from '../../src/trade/index.ts';
import type { Random } from './random.ts';

/** What a technician writes down of one machine, in the order it is done. */
export interface MachineNotes {
  read(quantity: Quantity, point: PointCode, method: MethodCode, value: number): void;
  see(code: ObservationCode, answer: 'yes' | 'no', how?: 'with_photo'): void;
}

/** What is written down on site: of the machine in question, and of the one indoors beside it. */
export interface FieldNotes extends MachineNotes {
  indoors: MachineNotes;
}

/** One way a visit can go: what is wrong, what is measured, what is found and offered. */
export interface Scenario {
  /** How many of a hundred visits go this way. */
  share: number;
  complaint: string;
  symptoms: readonly string[];
  machine: 'outdoor' | 'indoor';
  /** Whether a machine with this nameplate can have it; any can when absent. */
  fits?(nameplate: Nameplate): boolean;
  record(notes: FieldNotes, nameplate: Nameplate, random: Random): void;
  /** The same things measured after the work. */
  leave?(notes: FieldNotes, nameplate: Nameplate, random: Random): void;
  findings: readonly { fault: FaultCode; task(nameplate: Nameplate): TaskCode }[];
  /** Which findings each option mends; without options there is no quote. */
  options: readonly { title: string; findings: readonly number[] }[];
  /** The owner's reason to price what the evidence does not carry. */
  override?: string;
}

const repair = [{ title: 'Repair', findings: [0] }] as const;
const warmAir = { complaint: 'It runs but blows warm air.', symptoms: ['no_cooling'] } as const;
const dead = { complaint: 'Nothing runs at all.', symptoms: ['no_cooling', 'no_power'] } as const;
const leak = { complaint: 'Water by the indoor unit.', symptoms: ['water_leak'] } as const;

export const scenarios: readonly Scenario[] = [
  {
    share: 23,
    ...warmAir,
    machine: 'outdoor',
    record: (notes, { capacitorHermUf = 0 }, random) => {
      notes.see('compressor_hums', 'yes');
      loadTest(notes, 'capacitor_herm', capacitorHermUf * random.between(0.4, 0.8), random);
    },
    leave: leaveCapacitor,
    findings: [{ fault: 'run_capacitor_herm', task: compressorCapacitorTask }],
    options: repair,
  },
  {
    share: 11,
    ...warmAir,
    machine: 'outdoor',
    record: (notes, { capacitorHermUf = 0 }, random) => {
      loadTest(notes, 'capacitor_herm', capacitorHermUf * random.between(0.5, 0.82), random);
      wornPole(notes, random);
    },
    leave: leaveCapacitor,
    findings: [
      { fault: 'run_capacitor_herm', task: compressorCapacitorTask },
      { fault: 'worn_contactor', task: () => 'replace_contactor' },
    ],
    options: [
      { title: 'Capacitor and contactor', findings: [0, 1] },
      { title: 'Capacitor only', findings: [0] },
    ],
  },
  {
    share: 6,
    complaint: 'The outdoor fan stands still and hums.',
    symptoms: ['no_cooling', 'noise'],
    machine: 'outdoor',
    fits: ({ capacitorFanUf }) => capacitorFanUf !== undefined,
    record: (notes, { capacitorFanUf = 0 }, random) => {
      notes.see('outdoor_fan_hums', 'yes');
      leadsOffTest(notes, 'capacitor_fan', capacitorFanUf * random.between(0.2, 0.8));
    },
    findings: [{ fault: 'run_capacitor_fan', task: () => 'replace_dual_run_capacitor' }],
    options: repair,
  },
  {
    share: 3,
    complaint: 'It cools less every week.',
    symptoms: ['weak_cooling'],
    machine: 'outdoor',
    record: recoverTooLittle,
    findings: [{ fault: 'low_charge', task: () => 'renew_charge' }],
    options: [{ title: 'Renew the charge', findings: [0] }],
  },
  {
    share: 7,
    complaint: 'It cools, but less than last year.',
    symptoms: ['weak_cooling'],
    machine: 'outdoor',
    record: (notes, { capacitorHermUf = 0 }, random) =>
      leadsOffTest(notes, 'capacitor_herm', capacitorHermUf * random.between(0.914, 0.918)),
    findings: [{ fault: 'run_capacitor_herm', task: compressorCapacitorTask }],
    options: repair,
  },
  {
    share: 12,
    ...dead,
    machine: 'outdoor',
    record: (notes) => {
      notes.see('breaker_found_tripped', 'yes');
      notes.see('breaker_trip_cause_looked_for', 'yes');
    },
    leave: (notes, _nameplate, random) =>
      notes.read('voltage', 'line_supply', 'multimeter', tenths(random.between(228, 247))),
    findings: [{ fault: 'tripped_breaker', task: () => 'reset_breaker' }],
    options: [{ title: 'Breaker reset', findings: [0] }],
  },
  {
    share: 4,
    ...dead,
    machine: 'outdoor',
    record: (notes) => {
      notes.see('breaker_found_tripped', 'yes');
      notes.see('breaker_trip_cause_looked_for', 'yes');
    },
    findings: [
      { fault: 'tripped_breaker', task: () => 'reset_breaker' },
      { fault: 'tripped_breaker', task: () => 'trace_breaker_trip' },
    ],
    options: [{ title: 'Find out why it trips', findings: [0, 1] }],
  },
  {
    share: 13,
    ...leak,
    machine: 'indoor',
    record: (notes) => {
      notes.see('drain_pan_full', 'yes');
      notes.see('float_switch_raised', 'yes');
      notes.see('drain_flows_when_tested', 'no');
    },
    findings: [
      { fault: 'plugged_drain', task: () => 'clear_condensate_drain' },
      { fault: 'open_float_switch', task: () => 'reset_float_switch' },
    ],
    options: [{ title: 'Clear the drain', findings: [0, 1] }],
  },
  {
    share: 4,
    ...leak,
    machine: 'indoor',
    record: (notes) => {
      notes.see('drain_pan_full', 'yes');
      notes.see('drain_blockage_drawn_out', 'yes');
    },
    findings: [{ fault: 'plugged_drain', task: () => 'clear_condensate_drain' }],
    options: repair,
  },
  {
    share: 7,
    ...dead,
    machine: 'indoor',
    record: (notes, _nameplate, random) => {
      notes.read('voltage', 'control_fuse', 'multimeter', tenths(random.between(24, 27)));
      notes.see('control_fuse_reads_open', 'yes');
      notes.see('control_short_looked_for', 'yes');
    },
    findings: [
      { fault: 'open_control_fuse', task: () => 'replace_control_fuse' },
      { fault: 'open_control_fuse', task: () => 'trace_control_short' },
    ],
    options: [
      { title: 'Fuse, and trace the short', findings: [0, 1] },
      { title: 'Fuse only', findings: [0] },
    ],
  },
  {
    share: 4,
    complaint: 'It chatters and stops.',
    symptoms: ['noise', 'no_cooling'],
    machine: 'outdoor',
    record: (notes, _nameplate, random) => wornPole(notes, random),
    findings: [{ fault: 'worn_contactor', task: () => 'replace_contactor' }],
    options: repair,
  },
  {
    share: 3,
    ...warmAir,
    machine: 'outdoor',
    // Within what the method can tell of the limit: undecided, so nothing is found or sold.
    record: (notes, { capacitorHermUf = 0 }, random) =>
      loadTest(notes, 'capacitor_herm', capacitorHermUf * random.between(0.93, 0.95), random),
    findings: [],
    options: [],
  },
  {
    share: 2,
    ...warmAir,
    machine: 'outdoor',
    record: (notes, { capacitorHermUf = 0 }, random) =>
      loadTest(notes, 'capacitor_herm', capacitorHermUf * random.between(0.93, 0.95), random),
    findings: [{ fault: 'run_capacitor_herm', task: compressorCapacitorTask }],
    options: repair,
    override: 'Third call this summer for the same trouble; the customer wants it changed.',
  },
  {
    share: 1,
    ...warmAir,
    machine: 'outdoor',
    record: (notes, { capacitorHermUf = 0 }) =>
      leadsOffTest(notes, 'capacitor_herm', capacitorHermUf),
    findings: [],
    options: [{ title: 'Visit only', findings: [] }],
  },
];

function compressorCapacitorTask({ capacitorFanUf }: Nameplate): TaskCode {
  return capacitorFanUf === undefined
    ? 'replace_compressor_run_capacitor'
    : 'replace_dual_run_capacitor';
}

type CapacitorPoint = 'capacitor_herm' | 'capacitor_fan';

/** Amperes and volts that a meter shows of a capacitor of so many microfarads at 60 Hz. */
function loadTest(notes: FieldNotes, point: CapacitorPoint, uf: number, random: Random): void {
  const volts = tenths(random.between(328, 372));
  const amps = (uf * 2 * Math.PI * 60 * volts) / 1e6;
  notes.read('current', point, 'clamp_meter', hundredths(amps));
  notes.read('voltage', point, 'clamp_meter', volts);
}

function leadsOffTest(notes: FieldNotes, point: CapacitorPoint, uf: number): void {
  notes.read('capacitance', point, 'capacitance_meter_disconnected', hundredths(uf));
}

function leaveCapacitor(notes: FieldNotes, { capacitorHermUf = 0 }: Nameplate, random: Random) {
  loadTest(notes, 'capacitor_herm', capacitorHermUf * random.between(0.985, 1.015), random);
}

function wornPole(notes: FieldNotes, random: Random): void {
  notes.see('contactor_pulled_in', 'yes');
  notes.read('voltage', 'contactor_coil', 'multimeter', tenths(random.between(23.5, 27)));
  notes.read('voltage', 'contactor_pole_1', 'multimeter', hundredths(random.between(3.4, 7)));
}

/** The charge on the scale, and all that has to be looked at before it may be blamed. */
function recoverTooLittle(
  notes: FieldNotes,
  { factoryChargeOz = 0, lineSetIncludedFt = 0 }: Nameplate,
  random: Random,
): void {
  notes.indoors.see('filter_dirty', 'no');
  notes.indoors.see('ice_on_coil_or_line', 'no');
  notes.indoors.read('temperature', 'supply_air', 'thermometer', tenths(random.between(57, 64)));
  notes.see('refrigerant_leak_looked_for', 'yes');
  notes.read('length', 'line_set', 'tape_measure', lineSetIncludedFt);
  const recoveredOz = tenths(factoryChargeOz * random.between(0.55, 0.8));
  notes.read('mass', 'recovered_charge', 'refrigerant_scale', recoveredOz);
}

function tenths(value: number): number {
  return Math.round(value * 10) / 10;
}

function hundredths(value: number): number {
  return Math.round(value * 100) / 100;
}
