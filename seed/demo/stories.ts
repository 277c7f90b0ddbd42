import type { Answer, ApiClient } from './api-client.ts';
import { bookVisit, takeCall } from './desk.ts';
import {
  accept,
  arrive,
  closeAndBill,
  doWork,
  find,
  finish,
  measure,
  measureAfter,
  type OnSite,
  observe,
  quote,
  weigh,
} from './field.ts';
import { type Caller, callers } from './people.ts';
import { askByPhone, thermostatWasOff } from './phone.ts';

/** Who takes part, and where progress is told. */
export interface Cast {
  dispatcher: ApiClient;
  technician: ApiClient;
  technicianId: string;
  say(line: string): void;
}

/** How a story ended. */
export interface Ending {
  title: string;
  totalCents: number;
  why: string;
  /** The issued quote, where there is one. */
  quote?: Answer;
  /** The settled invoice, where anything was billed. */
  invoice?: Answer;
  /** The customer's own page, for an answer from afar. */
  page?: string;
  /** What the customer reads. */
  language?: 'en' | 'es';
  /** The machine it was about. */
  equipmentId?: string;
}

/** One hot afternoon, story by story. */
export const stories: readonly ((cast: Cast) => Promise<Ending>)[] = [
  solvedByPhone,
  breakerReset,
  pluggedDrain,
  failedCapacitor,
  lowCharge,
  declined,
  waitingForAnswer,
];

async function solvedByPhone({ dispatcher, say }: Cast): Promise<Ending> {
  const call = await takeCall(dispatcher, callers.phone);
  const { id, number } = call.ticket.body;
  const { checks, asked } = await askByPhone(dispatcher, id, thermostatWasOff);
  say(`ticket ${number}: ${asked} questions by phone, danger first, then what anybody may look at`);
  await dispatcher.post(
    `/v1/tickets/${id}/phone-checks/end`,
    {
      outcome: 'solved',
      whatHelped:
        'Thermostat set to COOL, five degrees below the room; cooling after five minutes.',
    },
    checks.tag,
  );
  return {
    title: 'Solved by phone',
    totalCents: 0,
    why: 'the thermostat was off; nobody drove out, so nothing is charged',
  };
}

async function breakerReset(cast: Cast): Promise<Ending> {
  const { at, ticketId, outdoorId, caller } = await goThere(cast, callers.breaker);
  await observe(at, outdoorId, { breaker_found_tripped: 'yes' });
  await observe(at, outdoorId, { breaker_trip_cause_looked_for: 'yes', breaker_trips_again: 'no' });
  await measure(at, outdoorId, [['line_supply', 'voltage', 241, 'V', 'multimeter']]);
  const breaker = await find(at, outdoorId, 'tripped_breaker', 'reset_breaker');
  tellVerdict(cast, breaker);
  const issued = await quote(at, [{ title: 'Reset the breaker', findings: [breaker] }]);
  const yes = await accept(at, issued, caller);
  await doWork(at, yes, [{ finding: breaker }]);
  await measureAfter(at, outdoorId, [['line_supply', 'voltage', 240, 'V', 'multimeter']]);
  await finish(at, 'work_complete');
  const invoice = await closeAndBill(at, ticketId, { conditionLeft: 'Running; panel closed.' });
  return ending(
    'Breaker reset',
    issued,
    invoice,
    'the visit fee, and nothing for flipping a breaker',
  );
}

async function pluggedDrain(cast: Cast): Promise<Ending> {
  const { at, ticketId, indoorId, caller } = await goThere(cast, callers.drain);
  await observe(at, indoorId, { thermostat_calling_cooling: 'yes', drain_pan_full: 'yes' });
  await measure(at, indoorId, [
    ['float_switch_in', 'voltage', 26.1, 'V', 'multimeter'],
    ['float_switch_out', 'voltage', 0.02, 'V', 'multimeter'],
  ]);
  // Water is poured into the pan to see; nothing is drawn out before she says yes.
  await observe(at, indoorId, { drain_flows_when_tested: 'no' });
  const float = await find(at, indoorId, 'open_float_switch', 'reset_float_switch');
  const drain = await find(at, indoorId, 'plugged_drain', 'clear_condensate_drain');
  tellVerdict(cast, float);
  tellVerdict(cast, drain);
  const issued = await quote(at, [
    // She reads Spanish, so what is written for her is Spanish.
    { title: 'Destapar el drenaje y arrancar', findings: [float, drain] },
  ]);
  const yes = await accept(at, issued, caller);
  await doWork(at, yes, [{ finding: float }, { finding: drain }]);
  await observe(at, indoorId, { drain_flows_when_tested: 'yes' }, 'left');
  await measureAfter(at, indoorId, [['float_switch_out', 'voltage', 26, 'V', 'multimeter']]);
  await finish(at, 'work_complete');
  const invoice = await closeAndBill(at, ticketId, { conditionLeft: 'Enfría; el drenaje corre.' });
  return {
    ...ending(
      'Plugged drain',
      issued,
      invoice,
      'the drain at its minutes; the float switch only reset',
    ),
    language: callers.drain.language,
  };
}

async function failedCapacitor(cast: Cast): Promise<Ending> {
  const { at, ticketId, outdoorId, caller } = await goThere(cast, callers.capacitor);
  await observe(at, outdoorId, {
    outdoor_fan_running: 'yes',
    compressor_hums: 'yes',
    contactor_pulled_in: 'yes',
    contactor_contacts_pitted: 'yes',
  });
  await measure(at, outdoorId, [
    ['capacitor_herm', 'current', 4.1, 'A', 'clamp_meter'],
    ['capacitor_herm', 'voltage', 352, 'V', 'multimeter'],
    ['capacitor_fan', 'capacitance', 4.9, 'uF', 'capacitance_meter_disconnected'],
    ['contactor_coil', 'voltage', 25.3, 'V', 'multimeter'],
    ['contactor_pole_1', 'voltage', 4.2, 'V', 'multimeter'],
  ]);
  await tellNextCheck(cast, at, outdoorId);
  const capacitor = await find(at, outdoorId, 'run_capacitor_herm', 'replace_dual_run_capacitor', {
    partCode: 'CAP-45-5-440',
    quantity: 1,
  });
  const contactor = await find(at, outdoorId, 'worn_contactor', 'replace_contactor', {
    partCode: 'CON-2P-30-24',
    quantity: 1,
  });
  tellVerdict(cast, capacitor);
  tellVerdict(cast, contactor);
  const issued = await quote(at, [
    { title: 'Capacitor and contactor', findings: [capacitor, contactor] },
    { title: 'Capacitor only', findings: [capacitor] },
  ]);
  const yes = await accept(at, issued, caller);
  await doWork(at, yes, [
    {
      finding: capacitor,
      parts: [{ partCode: 'CAP-45-5-440', quantity: 1, serial: 'INV-4505-77' }],
    },
    { finding: contactor, parts: [{ partCode: 'CON-2P-30-24', quantity: 1 }] },
  ]);
  await observe(at, outdoorId, { contactor_pulled_in: 'yes' }, 'left');
  await measureAfter(at, outdoorId, [
    ['capacitor_herm', 'capacitance', 45.2, 'uF', 'capacitance_meter_disconnected'],
    ['contactor_pole_1', 'voltage', 0.05, 'V', 'multimeter'],
  ]);
  await finish(at, 'work_complete');
  const invoice = await closeAndBill(at, ticketId, { conditionLeft: 'Cooling; panels closed.' });
  return ending(
    'Failed capacitor, worn contactor',
    issued,
    invoice,
    'two parts under $22, an hour of work',
  );
}

async function lowCharge(cast: Cast): Promise<Ending> {
  const { at, ticketId, outdoorId, indoorId, caller } = await goThere(cast, callers.charge);
  await observe(at, indoorId, { filter_dirty: 'no', ice_on_coil_or_line: 'no' });
  await measure(at, indoorId, [
    ['return_air', 'temperature', 76, 'F', 'thermometer'],
    ['return_air', 'wet_bulb_temperature', 63, 'F', 'psychrometer'],
    ['supply_air', 'temperature', 64, 'F', 'thermometer'],
  ]);
  await observe(at, outdoorId, { refrigerant_leak_looked_for: 'yes' });
  // The charge is proven with gauges and thermometers: it stays where it is until he says yes.
  await measure(at, outdoorId, [
    ['suction_port', 'gauge_pressure', 97, 'psi', 'digital_gauge'],
    ['liquid_port', 'gauge_pressure', 341.9, 'psi', 'digital_gauge'],
    ['suction_line', 'temperature', 62, 'F', 'pipe_clamp_thermometer'],
    ['liquid_line', 'temperature', 103, 'F', 'pipe_clamp_thermometer'],
    ['filter_drier_in', 'temperature', 103, 'F', 'pipe_clamp_thermometer'],
    ['filter_drier_out', 'temperature', 102.7, 'F', 'pipe_clamp_thermometer'],
    ['outdoor_air', 'temperature', 95, 'F', 'thermometer'],
    ['line_set', 'length', 35, 'ft', 'tape_measure'],
  ]);
  // The plate asks for 104 ounces and 0.6 for each foot above 15: 116 ounces, seven and a quarter
  // pounds.
  const charge = await find(at, outdoorId, 'low_charge', 'renew_charge', {
    partCode: 'REF-R-410A',
    measured: '7.25',
  });
  tellVerdict(cast, charge);
  const issued = await quote(at, [{ title: 'Renew the charge', findings: [charge] }]);
  const yes = await accept(at, issued, caller);
  const out = { equipmentId: outdoorId, cylinder: 'INV-REC-03' };
  await weigh(at, { ...out, direction: 'recovered', beforeOz: '0', afterOz: '80' });
  const cylinder = { equipmentId: outdoorId, cylinder: 'INV-R410A-12' };
  await weigh(at, { ...cylinder, direction: 'charged', beforeOz: '400', afterOz: '284' });
  await doWork(at, yes, [
    { finding: charge, parts: [{ partCode: 'REF-R-410A', measured: '7.25' }] },
  ]);
  await measureAfter(at, outdoorId, [
    ['liquid_port', 'gauge_pressure', 385, 'psi', 'digital_gauge'],
    ['liquid_line', 'temperature', 103, 'F', 'pipe_clamp_thermometer'],
  ]);
  await measureAfter(at, indoorId, [['supply_air', 'temperature', 55, 'F', 'thermometer']]);
  await finish(at, 'work_complete');
  const invoice = await closeAndBill(at, ticketId, {
    conditionLeft: 'Cooling; leak to be watched.',
  });
  return ending('Low charge', issued, invoice, '7.25 pounds of refrigerant and two hours of work');
}

async function declined(cast: Cast): Promise<Ending> {
  const { at, ticketId, outdoorId, caller } = await goThere(cast, callers.declined);
  await measure(at, outdoorId, [
    ['capacitor_herm', 'current', 3.6, 'A', 'clamp_meter'],
    ['capacitor_herm', 'voltage', 348, 'V', 'multimeter'],
  ]);
  const capacitor = await find(at, outdoorId, 'run_capacitor_herm', 'replace_dual_run_capacitor', {
    partCode: 'CAP-45-5-440',
    quantity: 1,
  });
  tellVerdict(cast, capacitor);
  const issued = await quote(at, [{ title: 'Replace the capacitor', findings: [capacitor] }]);
  await at.technician.post(
    `/v1/quotes/${issued.body.id}/decline`,
    {
      declinedByName: caller.name,
      reason: 'Wants to ask a neighbor first.',
      conditionLeft: 'System off at the thermostat, outdoor breaker on, panels closed.',
      dangerWarned: 'Leave it off: the compressor overheats when it cannot start.',
    },
    issued.tag,
  );
  await finish(at, 'waiting_for_answer');
  const invoice = await closeAndBill(at, ticketId, {
    complaintGone: 'no',
    conditionLeft: 'System off at the thermostat, outdoor breaker on, panels closed.',
    noReadingsWhy: 'Nothing was mended.',
  });
  return {
    title: 'Quote declined',
    totalCents: invoice.body.totalCents,
    why: `the visit fee only; the repair would have come to ${dollars(issued.body.options[0].totalCents)}`,
    quote: issued,
    invoice,
    equipmentId: outdoorId,
  };
}

async function waitingForAnswer(cast: Cast): Promise<Ending> {
  const { at, outdoorId, indoorId } = await goThere(cast, callers.waiting);
  await measure(at, outdoorId, [
    ['capacitor_herm', 'current', 3.9, 'A', 'clamp_meter'],
    ['capacitor_herm', 'voltage', 350, 'V', 'multimeter'],
  ]);
  await observe(at, indoorId, { drain_pan_full: 'yes', drain_flows_when_tested: 'no' });
  const capacitor = await find(at, outdoorId, 'run_capacitor_herm', 'replace_dual_run_capacitor', {
    partCode: 'CAP-45-5-440',
    quantity: 1,
  });
  const drain = await find(at, indoorId, 'plugged_drain', 'clear_condensate_drain');
  tellVerdict(cast, capacitor);
  tellVerdict(cast, drain);
  const issued = await quote(at, [
    { title: 'Capacitor and drain', findings: [capacitor, drain] },
    { title: 'Capacitor only', findings: [capacitor] },
  ]);
  const path = `/v1/quotes/${issued.body.id}/links`;
  const { body: link } = await at.technician.post(path, { holder: 'approver' });
  const [dearest] = issued.body.options;
  return {
    title: 'Waiting for an answer',
    totalCents: 0,
    why: `nothing is billed before a yes; up to ${dollars(dearest.totalCents)} is offered`,
    quote: issued,
    page: link.url,
    equipmentId: outdoorId,
  };
}

/** Call, booking, arrival: how every visit begins. */
async function goThere(
  { dispatcher, technician, technicianId, say }: Cast,
  caller: Caller,
): Promise<{
  at: OnSite;
  ticketId: string;
  outdoorId: string;
  indoorId: string;
  caller: Caller;
}> {
  const call = await takeCall(dispatcher, caller);
  const visit = await bookVisit(dispatcher, call, technicianId);
  const fee = dollars(visit.body.feeCents);
  say(`ticket ${call.ticket.body.number}: visit fee ${fee} told and agreed, window booked`);
  const at = await arrive(technician, visit);
  const { outdoorId, indoorId, ticket } = call;
  return { at, ticketId: ticket.body.id, outdoorId, indoorId, caller };
}

function tellVerdict({ say }: Cast, { body }: Answer): void {
  const proof = body.criteria.find(
    (each: { outcome: string; direction: string }) =>
      each.outcome === 'met' && each.direction === 'for',
  );
  say(`${body.faultName}: ${body.standing}. ${proof?.detail ?? body.reason}`);
}

async function tellNextCheck({ say }: Cast, at: OnSite, equipmentId: string): Promise<void> {
  const path = `/v1/visits/${at.visitId}/assessment?equipmentId=${equipmentId}`;
  const { body } = await at.technician.get(path);
  const [best] = body.systems[0].advice.nextChecks;
  say(`next check, ${best.minutes} min: ${best.ask} ${best.reason}`);
}

function ending(title: string, issued: Answer, invoice: Answer, why: string): Ending {
  const [option] = issued.body.options;
  const { number, state, totalCents } = invoice.body;
  const billed = `invoice ${number}, ${state}`;
  return { title, totalCents, why: `${sumOf(option)}; ${why}; ${billed}`, quote: issued, invoice };
}

/** The total as a customer would add it up: 'fee 44.50 + parts 55.20 + ... '. */
function sumOf(option: { classTotals: Record<string, number>; taxCents: number }): string {
  const { visit_fee: fee = 0, part = 0, labor = 0, access = 0 } = option.classTotals;
  return [
    ['fee', fee],
    ['parts', part],
    ['labor', labor],
    ['access', access],
    ['tax', option.taxCents],
  ]
    .filter(([, cents]) => cents !== 0)
    .map(([word, cents]) => `${word} ${dollars(Number(cents))}`)
    .join(' + ');
}

/** Cents as dollars for reading. */
export function dollars(cents: number): string {
  return `$${(cents / 100).toFixed(2)}`;
}
