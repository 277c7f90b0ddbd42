/*
 * How bills of small calls without cooling are worded: common practice, no source. All are invented.
 */

const dual = 'replace_dual_run_capacitor';
const compressorCap = 'replace_compressor_run_capacitor';
const fanCap = 'replace_fan_run_capacitor';
const blowerCap = 'replace_blower_run_capacitor';
const capacitor = [dual, compressorCap, fanCap, blowerCap];
const contactor = ['replace_contactor'];
const anyFuse = ['replace_control_fuse', 'replace_disconnect_fuses'];
const controlFuse = ['replace_control_fuse'];
const drain = ['clear_condensate_drain'];
const breaker = ['reset_breaker'];
const refrigerant = ['add_refrigerant'];

export interface Wording {
  readonly found: string;
  readonly done: string;
  /** Each piece of work, as the tasks that it may have been. */
  readonly work: readonly (readonly string[])[];
}

function says(found: string, done: string, ...work: readonly (readonly string[])[]): Wording {
  return { found, done, work };
}

export const everydayWordings: readonly Wording[] = [
  // The capacitor, all in.
  says('Bad run capacitor', 'Replaced run capacitor - all in', capacitor),
  says('Bad run capacitor', 'Replaced run capacitor – all in', capacitor),
  says('Weak capacitor', 'Replaced run capacitor, all-in price', capacitor),
  says('Weak capacitor', 'Replaced capacitor (all in)', capacitor),
  says('No cooling', 'Replaced run capacitor, $700 all in', capacitor),
  says('Bad capacitor', 'Capacitor replacement', capacitor),
  says('Bad capacitor', 'Run capacitor replacement - all in', capacitor),
  says('Bad cap', 'Capacitor swap', capacitor),
  says('Bad cap', 'Capacitor change out', capacitor),
  says('Bad cap', 'Capacitor changeout', capacitor),
  says('', 'Replacement of run capacitor', capacitor),
  says('', 'Replacement capacitor', capacitor),
  says('Failed capacitor', 'Replace capacitor', capacitor),
  says('Failed capacitor', 'Replaced capacitor, parts and labor', capacitor),
  says('Failed capacitor', 'Replaced capacitor (parts & labor)', capacitor),
  says('Failed capacitor', 'Replaced capacitor, parts and labor included', capacitor),
  says('Failed capacitor', 'Capacitor replacement incl. labor', capacitor),
  says('Failed capacitor', 'Capacitor replacement, includes parts and labor', capacitor),
  says('Capacitor weak', 'Replaced capacitor - flat rate', capacitor),
  says('Capacitor weak', 'Replaced capacitor, flat rate price', capacitor),
  says('Capacitor 45/5 weak', 'Replaced dual run capacitor 45/5 (includes 1 year warranty)', [
    dual,
  ]),
  says('Capacitor weak', 'Replaced capacitor (1 year warranty)', capacitor),
  says('Capacitor weak', 'Capacitor replaced - 1 yr parts warranty', capacitor),
  says('Capacitor weak', 'Replaced capacitor, 90 day labor warranty', capacitor),
  says('Capacitor weak', 'Replaced capacitor with 2-year warranty', capacitor),
  says('No cooling', 'Replaced capacitor. System cooling on departure.', capacitor),
  says('No cooling', 'Replaced capacitor. Cooling on departure.', capacitor),
  says('No cooling', 'Replaced failed capacitor, unit running at departure', capacitor),
  says('No cooling', 'Replaced blown capacitor and restored cooling', capacitor),
  says('No cooling', 'Replaced capacitor, tested unit, all good', capacitor),
  says('No cooling', 'Replaced capacitor; unit cooling properly, 18 degree split', capacitor),
  says(
    'No cooling',
    'Replaced capacitor. Customer satisfied. Thank you for your business!',
    capacitor,
  ),
  says('', 'New 45/5 run capacitor installed', [dual]),
  says('', 'R&R capacitor', capacitor),
  says('', 'R/R run capacitor', capacitor),
  says('', 'Supplied and installed run capacitor', capacitor),
  says('', 'Put in new capacitor', capacitor),
  says('', 'Replaced the capacitor in the outside unit', capacitor),
  says('', 'Replaced (1) run capacitor', capacitor),
  says('', '1 run capacitor replaced', capacitor),
  says('', 'Found bad capacitor and replaced it.', capacitor),
  says('', 'Capacitor was bad, replaced it', capacitor),
  says('', 'Diagnosed and replaced bad capacitor', capacitor),
  says('', 'Service call and capacitor replacement', capacitor),
  says('', 'Service call, replaced capacitor, labor', capacitor),
  says('', 'Trip charge, diagnostic, replaced capacitor', capacitor),
  says('', 'Weekend service call - replaced capacitor', capacitor),
  says('', 'Emergency service call, replaced capacitor', capacitor),
  says('', 'Replaced capacitor, service call fee waived', capacitor),
  says('', 'Work performed: replaced capacitor', capacitor),
  says('Bad capacitor', 'Capacitor', capacitor),
  // A start device.
  says(
    'Hard starting',
    'Hard start kit and capacitor',
    ['add_start_device', 'replace_start_device'],
    capacitor,
  ),
  says('', 'Installed hard start kit and capacitor', ['add_start_device'], capacitor),
  says('', 'Added hard start kit and replaced run capacitor', ['add_start_device'], capacitor),
  says('', 'Installation of hard start kit', ['add_start_device']),
  // The contactor.
  says('Pitted contactor', 'Contactor replacement', contactor),
  says('Pitted contactor', 'Replaced contactor, contacts burned', contactor),
  says('', 'Capacitor & contactor replacement', capacitor, contactor),
  says('', 'Capacitor and contactor replacement, parts and labor', capacitor, contactor),
  says('', 'Capacitor replaced, contactor cleaned', capacitor),
  says('', 'Capacitor replaced and contactor cleaned.', capacitor),
  says('', 'Replaced contactor (2 pole) and tightened connections', contactor),
  // Refrigerant.
  says('Low charge', 'Charged system with 1 lb R-410A', refrigerant),
  says('', 'Replaced capacitor and charged system with 1 lb R-410A', capacitor, refrigerant),
  says('Low', 'Added 1 lb of R-22, cooling restored', refrigerant),
  says('Low on freon', 'Topped off with 2 lbs 410a', refrigerant),
  says('', 'Low on freon, added 1.5 lb R410A and checked pressures', refrigerant),
  // The drain.
  says('Clogged drain', 'Unclogged drain line with nitrogen', drain),
  says('Clogged drain', 'Blew out condensate line with nitrogen', drain),
  says('Water in pan', 'Vacuumed drain line with shop vac', drain),
  says('', 'Drain line cleaning', drain),
  says('', 'Cleared clogged drain, system running on departure', drain),
  says('Float switch tripped', 'Wet vacuumed condensate drain and reset float switch', drain, [
    'reset_float_switch',
  ]),
  // Fuses.
  says('Blown 3 amp fuse', 'Replaced fuse on control board', controlFuse),
  says('Blown fuse', 'Fixed blown fuse', anyFuse),
  says('', 'Replaced 3A fuse', controlFuse),
  says('', 'Replaced blown low voltage fuse', controlFuse),
  says('', 'Replaced 5 amp blade fuse', controlFuse),
  says('', 'Fuse replacement on air handler board', controlFuse),
  says('Blown fuse on board', 'Replaced fuse', controlFuse),
  says('', 'Replaced two 35 amp fuses in disconnect', ['replace_disconnect_fuses']),
  // What a reset puts right.
  says('Tripped breaker', 'Breaker reset', breaker),
  says('Tripped breaker', 'Reset breaker and tested', breaker),
  says('Tripped breaker', 'Reset tripped breaker, parts and labor', breaker),
  says('', 'Breaker was tripped - reset, system cooling', breaker),
  says('', 'Turned breaker on', breaker),
  says('', 'Flipped breaker back on, all working', breaker),
  says('', 'Restored power at breaker', breaker),
  says('', 'Reinserted disconnect', ['restore_disconnect']),
  says('Dead batteries', 'Replaced thermostat batteries', ['replace_thermostat_batteries']),
  says('', 'Thermostat battery replacement', ['replace_thermostat_batteries']),
  says('', 'Set thermostat to cool', ['set_thermostat']),
  // Motors and the rest of a small call.
  says('', 'Blower motor and module replaced', ['replace_blower_motor'], ['replace_blower_module']),
  says('', 'Replaced blower motor and module', ['replace_blower_motor'], ['replace_blower_module']),
  says('', 'Condenser fan motor replacement', ['replace_outdoor_fan_motor']),
  says('', 'Outdoor fan motor swap', ['replace_outdoor_fan_motor']),
  says(
    '',
    'Replaced condenser fan motor and run capacitor, parts and labor',
    ['replace_outdoor_fan_motor'],
    capacitor,
  ),
  says('', 'Condenser coil cleaning', ['clean_outdoor_coil']),
  says('', 'Rinsed outdoor coil', ['clean_outdoor_coil']),
  says('', 'Cleaned condenser coil and replaced capacitor', ['clean_outdoor_coil'], capacitor),
  says('', 'Transformer replacement', ['replace_transformer']),
  says('', 'Replaced transformer and 3 amp fuse', ['replace_transformer'], controlFuse),
  says('', 'Thermostat replacement - parts & labor', ['replace_thermostat']),
  says('', 'Float switch replacement', ['replace_float_switch']),
  says('', 'Filter change', ['replace_filter']),
  says('', 'Replaced air filter', ['replace_filter']),
  // Looked at, and nothing done.
  says('', 'Diagnostic only'),
  says('', 'Diagnosis only, customer declined repair'),
  says('Bad capacitor', 'Checked system. Capacitor replacement recommended.'),
  says('Bad capacitor', 'Checked system, capacitor replacement declined'),
];

/** What nobody can be sure of, whatever it costs. */
export const everydayDoubts: readonly { readonly found: string; readonly done: string }[] = [
  // A repair of what has none, or of what is not named.
  { found: 'Tripped breaker', done: 'Repaired breaker' },
  { found: 'Tripped breaker', done: 'Breaker service' },
  { found: 'Tripped breaker', done: 'Breaker repair, electrical repair labor 2 hours' },
  { found: 'Tripped breaker', done: 'Circuit repair - restored power to condenser' },
  { found: '', done: 'New breaker' },
  { found: '', done: 'Fixed capacitor' },
  { found: '', done: 'Fixed contactor' },
  { found: '', done: 'Fixed thermostat' },
  { found: '', done: 'Electrical repair' },
  { found: '', done: 'AC repair, all in' },
  { found: '', done: 'Replaced bad part and restored cooling' },
  { found: '', done: 'New part installed' },
  { found: '', done: 'Tune-up' },
  { found: '', done: 'Reset and tested' },
  { found: '', done: 'Restored cooling' },
  { found: '', done: 'Cleaned contactor' },
  { found: '', done: 'Unclogged capacitor' },
  { found: '', done: 'Capacitor reset' },
  // A list in which one is called bad: found, or replaced too?
  { found: '', done: 'bad compressor and capacitor replaced' },
  { found: '', done: 'failed blower motor and capacitor replaced' },
  { found: '', done: 'blown fuse and contactor replaced' },
  { found: '', done: 'Bad capacitor & pitted contactor replaced' },
  { found: '', done: 'Capacitor bad and contactor bad, replaced it' },
  { found: '', done: 'Replaced it' },
  { found: '', done: 'Replaced capacitor or contactor' },
  { found: '', done: 'Replaced capacitor?' },
  // Words about price, warranty and leaving are no work, and say of none either.
  { found: 'Bad capacitor', done: 'All in price' },
  { found: 'Bad capacitor', done: 'Parts and labor' },
  { found: 'Bad capacitor', done: 'Flat rate, $700 all in' },
  { found: '', done: 'Labor 2 hours' },
  { found: '', done: 'Service call' },
  { found: '', done: 'System cooling on departure' },
  { found: '', done: 'Thank you for your business!' },
  { found: '', done: '1 year warranty' },
  // Paid by another, or not paid at all.
  { found: '', done: 'Replaced capacitor under warranty' },
  { found: '', done: 'Warranty replacement of capacitor' },
  { found: '', done: 'Capacitor replaced at no charge' },
  { found: '', done: 'Replaced capacitor free of charge' },
  // Sold beside it, and not of our book.
  { found: '', done: 'Replaced capacitor and surge protector' },
  { found: '', done: 'Replaced capacitor, 1 year membership' },
  { found: '', done: 'Replaced capacitor, extended warranty' },
  // Only named, where more than replacing may have been done.
  { found: '', done: 'Breaker' },
  { found: '', done: 'Thermostat' },
  { found: '', done: 'Drain line' },
  { found: '', done: 'Capacitor and thermostat' },
  { found: '', done: 'Hard start kit and breaker' },
  { found: '', done: 'Motor and module' },
  { found: '', done: 'Module replaced' },
  // One word more makes it another thing.
  { found: '', done: 'Capacitor replacement kit' },
  { found: '', done: 'Capacitor replacement estimate' },
  { found: '', done: 'Replaced capacitor wire' },
  { found: '', done: 'Replaced contactor coil' },
  { found: '', done: 'Charged for capacitor' },
  { found: '', done: 'Charged capacitor' },
  { found: '', done: 'Charged 2 hours' },
  { found: '', done: 'Nitrogen' },
];
