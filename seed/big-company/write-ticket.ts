import { localDay } from '../../src/company/index.ts';
import { hasTurns } from './company-plan.ts';
import { comesAgain, isRecall } from './history.ts';
import {
  booked,
  type Job,
  raise,
  step,
  technicianOf,
  termsOf,
  writeTicketRow,
  writeVisitRow,
} from './job.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import type { Machine } from './place.ts';
import { randomFor } from './random.ts';
import { type Scenario, scenarios } from './scenarios.ts';
import type { TicketFate } from './ticket-fate.ts';
import { pickTurn } from './turns/pick-turn.ts';
import type { ComesBack } from './turns/returns.ts';
import { whatComesBack } from './turns/what-comes-back.ts';
import { writeVisited } from './write-visited.ts';
import type { Bendable } from './wrongs/wrong.ts';

/** Writes a ticket with everything that came of it up to the present. */
export function writeTicket(
  pen: Pen,
  {
    number,
    place,
    slot,
    fate,
    dispatcher,
    isBusy,
    comesBack,
  }: Omit<Job, 'ticketId' | 'scenario' | 'machine' | 'wrong' | 'turn' | 'asksAgain'> & {
    fate: TicketFate;
    /** The place was to call again for what was mended there. */
    comesBack: ComesBack | undefined;
    /** Somebody is expected there already, so nothing more is found. */
    isBusy: boolean;
  },
): void {
  const drawn =
    pen.random.pick([place.systems[0], ...place.systems]) ?? raise('a place has a system');
  const back = comesBack && backAt(pen, place, slot, comesBack);
  const system = back?.system ?? drawn;
  const ordinary = bendableOf(pen, slot, system, isBusy);
  const bendable = back ? { ...ordinary, scenario: back.scenario } : ordinary;
  const mayBend = !isBusy && fate === 'visited' && slot.end <= pen.plan.present;
  const picked = mayBend
    ? pen.wrongs.pick(bendable, randomFor(pen.plan.seed, 'wrong', number))
    : undefined;
  const { scenario, wrong } = picked ?? { scenario: bendable.scenario, wrong: undefined };
  const machine = system[scenario.machine];
  const ticketId = pen.makeId(slot.call);
  const { turns = 0, seed } = pen.plan;
  const turn =
    picked === undefined && mayBend && back === undefined
      ? pickTurn(bendable, turns, randomFor(seed, 'turn', number))
      : picked?.turn;
  const asksAgain = picked === undefined && back?.how === 'failed_again';
  WRITERS[fate](pen, {
    ...{ ticketId, number, place, slot, dispatcher, scenario, machine, wrong, turn, asksAgain },
  });
}

function bendableOf(
  pen: Pen,
  slot: Job['slot'],
  system: Job['place']['systems'][number],
  isBusy: boolean,
): Bendable {
  const { outdoor, indoor, row } = system;
  const about = {
    ...{ outdoor, indoor, slot, present: pen.plan.present, hasTurns: hasTurns(pen.plan) },
    technician: technicianOf(pen, slot),
    arrivesAbout: slot.start,
    day: localDay(slot.start, pen.plan.company.timeZone),
    known: pen.history.of(row.id),
  };
  return { ...about, scenario: isBusy ? nothingWrong() : pickScenario(pen, about) };
}

/** At which system it comes again, and what. */
function backAt(pen: Pen, place: Job['place'], slot: Job['slot'], how: ComesBack) {
  const day = localDay(slot.start, pen.plan.company.timeZone);
  const mayHandle = technicianOf(pen, slot).epa608Type !== null;
  const asked = { how, arrivedAt: slot.start, day, mayHandle };
  for (const system of place.systems) {
    const scenario = whatComesBack(pen.history.of(system.row.id), asked);
    if (scenario !== undefined) return { system, scenario, how };
  }
  return undefined;
}

const WRITERS: Record<TicketFate, (pen: Pen, job: Job) => void> = {
  solved_by_phone: writeSolvedByPhone,
  called_off: writeCalledOff,
  visit_cancelled: writeCancelledVisit,
  no_access: unlessAhead(writeNoAccess),
  visited: unlessAhead(writeVisited),
};

/**
 * What is wrong this time. What was mended lately seldom is again; where it is, it is our own work
 * within its warranty. Whoever has no certificate is not sent where refrigerant is handled.
 */
function pickScenario(pen: Pen, about: Omit<Bendable, 'scenario'>): Scenario {
  const { known, technician, outdoor, arrivesAbout: arrivedAt, day } = about;
  for (let tries = 0; tries < 4; tries += 1) {
    const scenario = drawScenario(pen, outdoor.nameplate);
    const mayHandle = technician.epa608Type !== null || !isRefrigerant(scenario);
    const isNew = !comesAgain(known, scenario);
    const isOwnWork = isRecall(known, scenario, { arrivedAt, day }) && pen.random.chance(0.3);
    if (mayHandle && (isNew || isOwnWork)) return scenario;
  }
  return nothingWrong();
}

function nothingWrong(): Scenario {
  return scenarios.find(({ findings }) => findings.length === 0) ?? raise('nothing may be wrong');
}

function isRefrigerant({ findings }: Scenario): boolean {
  return findings.some(({ fault }) => fault === 'low_charge');
}

function drawScenario(pen: Pen, outdoor: Machine['nameplate']): Scenario {
  let draw = pen.random.between(0, 100);
  const picked = scenarios.find(({ share }) => {
    draw -= share;
    return draw < 0;
  });
  const fitting = picked?.fits?.(outdoor) === false ? undefined : picked;
  return fitting ?? scenarios[0] ?? raise('there is a scenario');
}

function writeSolvedByPhone(pen: Pen, job: Job): void {
  const { slot, dispatcher, ticketId } = job;
  const at = minutesAfter(slot.call, 8);
  writeTicketRow(
    pen,
    job,
    [step('resolved_by_phone', at, dispatcher)],
    'The breaker had tripped; it holds.',
  );
  const answers = [
    ['thermostat_calling_cooling', 'yes'],
    ['breaker_found_tripped', pen.random.pick(['yes', 'no', 'unknown'])],
  ] as const;
  for (const [code, answer] of answers) {
    const id = pen.makeId(at);
    const facts = { ticketId, code, answer, source: 'reported', phase: 'found', observedAt: at };
    pen.add('observation', {
      ...facts,
      id,
      visitId: null,
      equipmentId: null,
      photoSha256: null,
      note: null,
      recordedAt: at,
      recordedById: dispatcher.id,
    });
    pen.note(at, dispatcher, {
      event: 'observation.recorded',
      subject: { kind: 'observation', id },
      after: facts,
    });
  }
}

function writeCalledOff(pen: Pen, job: Job): void {
  const calledOff = step('cancelled', minutesAfter(job.slot.call, 30), job.dispatcher);
  writeTicketRow(pen, job, [calledOff], 'Called off.');
}

function writeCancelledVisit(pen: Pen, job: Job): void {
  const { slot, dispatcher } = job;
  const cancelledAt = minutesAfter(slot.call, 45);
  const ends = [step('new', cancelledAt, dispatcher), step('cancelled', cancelledAt, dispatcher)];
  writeTicketRow(pen, job, [booked(job), ...ends], 'The caller mended it.');
  writeVisitRow(pen, job, slot, termsOf(pen, job), [step('cancelled', cancelledAt, dispatcher)]);
}

function writeNoAccess(pen: Pen, job: Job): void {
  const { slot, dispatcher } = job;
  const technician = technicianOf(pen, slot);
  const leftAt = minutesAfter(slot.start, -15);
  const waited = minutesWaited(pen, job);
  const foundShutAt = minutesAfter(slot.start, 10 + waited);
  const ends = [
    step('new', foundShutAt, technician),
    step('cancelled', minutesAfter(slot.start, 90), dispatcher),
  ];
  writeTicketRow(pen, job, [booked(job), ...ends], 'Nobody was there.');
  const foundShut = step('no_access' as const, foundShutAt, technician);
  writeVisitRow(pen, job, slot, termsOf(pen, job), [
    step('on_the_way', leftAt, technician),
    ...(waited > 0
      ? [step('on_site' as const, minutesAfter(foundShutAt, -waited), technician)]
      : []),
    foundShut,
  ]);
}

/** Some wait at the locked door for a while, and note when they came. */
function minutesWaited({ plan }: Pen, { number }: Job): number {
  const random = randomFor(plan.seed, 'door', number);
  return hasTurns(plan) && random.chance(0.5) ? random.int(20, 40) : 0;
}

/** What the present has not come to the end of is only booked yet. */
function unlessAhead(write: (pen: Pen, job: Job) => void): (pen: Pen, job: Job) => void {
  return (pen, job) => {
    const isAhead = job.slot.end > pen.plan.present;
    (isAhead ? writeAhead : write)(pen, job);
  };
}

/** A visit that the present has not come to yet, or has just come to. */
function writeAhead(pen: Pen, job: Job): void {
  const { slot } = job;
  const technician = technicianOf(pen, slot);
  const isUnderWay = slot.start <= pen.plan.present && slot.technician % 2 === 0;
  writeTicketRow(pen, job, [booked(job)]);
  const steps = isUnderWay ? [step('on_the_way', minutesAfter(slot.start, -15), technician)] : [];
  writeVisitRow(pen, job, slot, termsOf(pen, job), steps);
}
