import { isCarried, type WholeFinding } from '../../src/evidence/index.ts';
import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { Prisma } from '../../src/platform/database/generated/client.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type FaultCode,
  type Observation,
  type ObservationCode,
  partFits,
  type Reading,
  type Remedy,
  remedyFor,
  type TaskCode,
  unitOfQuantity,
} from '../../src/trade/index.ts';
import { jpegOf } from '../jpeg-of.ts';
import type { Member } from './company-plan.ts';
import type { Pen } from './pen.ts';
import type { Machine, Place } from './place.ts';
import { fitOf, type YearBook } from './price-books.ts';
import type { MachineNotes, Scenario } from './scenarios.ts';
import type { Acts } from './wrongs/wrong.ts';

/** A visit as far as what is recorded there is concerned. */
export interface FieldVisit {
  id: string;
  ticketId: string;
  technician: Member;
  machine: Machine;
  place: Place;
  book: YearBook;
}

/** What was written down at a visit. */
export interface Recorded {
  readings: Reading[];
  observations: Observation[];
}

/** Writes readings and observations, one or two minutes after another. */
export function recordEvidence(
  pen: Pen,
  visit: FieldVisit,
  phase: 'found' | 'left',
  from: Date,
  record: Scenario['record'],
): Recorded {
  const recorded: Recorded = { readings: [], observations: [] };
  let at = from;
  const tick = () => {
    at = new Date(at.getTime() + pen.random.int(40_000, 120_000));
    return at;
  };
  const notesOf = (machine: Machine): MachineNotes => {
    const here = { ...visit, machine };
    return {
      read: (quantity, point, method, value) => {
        const figures = { quantity, point, value, unit: unitOfQuantity[quantity], method } as const;
        recorded.readings.push(writeReading(pen, here, phase, tick(), figures));
      },
      see: (code, answer, how) => {
        const seenAt = tick();
        const photo =
          how === 'with_photo' ? { photoSha256: writePhoto(pen, here, code, seenAt) } : {};
        recorded.observations.push(
          writeObservation(pen, here, phase, seenAt, { code, answer, ...photo }),
        );
      },
    };
  };
  const notes = { ...notesOf(visit.machine), indoors: notesOf(indoorOf(visit)) };
  record(notes, visit.machine.nameplate, pen.random);
  return recorded;
}

function indoorOf({ machine, place }: FieldVisit): Machine {
  const system = place.systems.find(({ row }) => row.id === machine.row.systemId);
  if (system === undefined) throw new Error('a machine belongs to a system of its place');
  return system.indoor;
}

type Figures = Pick<Reading, 'quantity' | 'point' | 'value' | 'unit' | 'method'>;

function writeReading(
  pen: Pen,
  visit: FieldVisit,
  phase: 'found' | 'left',
  at: Date,
  figures: Figures,
): Reading {
  const id = pen.makeId(at);
  const facts = { ...figures, source: 'measured', phase } as const;
  const equipmentId = visit.machine.row.id;
  const shown = { shownValue: figures.value, shownUnit: figures.unit };
  pen.add('reading', {
    id,
    visitId: visit.id,
    equipmentId,
    ...facts,
    ...shown,
    photoSha256: null,
    instrument: null,
    takenAt: at,
    recordedAt: at,
    recordedById: visit.technician.id,
  });
  pen.note(at, visit.technician, {
    event: 'reading.recorded',
    subject: { kind: 'reading', id },
    after: { ...facts, ...shown, photoSha256: null, equipmentId, visitId: visit.id, takenAt: at },
  });
  return { id, equipmentId, ...facts, takenAt: at.toISOString() };
}

/** A photo of the part that something was seen on. */
function writePhoto(pen: Pen, visit: FieldVisit, seen: ObservationCode, at: Date): string {
  const size = { widthPx: 1_600, heightPx: 1_200 };
  const bytes = jpegOf(`${visit.id} ${seen}`, size);
  const shows = 'old_part';
  const hash = sha256(bytes);
  const mediaType = 'image/jpeg';
  pen.add('document', {
    sha256: hash,
    kind: 'photo',
    language: 'none',
    renderer: 'none',
    mediaType,
    bytes,
    createdAt: at,
  });
  pen.add('visit_photo', {
    visitId: visit.id,
    sha256: hash,
    shows,
    ...size,
    recordedAt: at,
    recordedById: visit.technician.id,
  });
  pen.note(at, visit.technician, {
    event: 'photo.added',
    subject: { kind: 'photo', id: hash },
    after: { visitId: visit.id, shows, mediaType, bytes: bytes.length, ...size },
  });
  return hash;
}

type Seen = Pick<Observation, 'code' | 'answer' | 'photoSha256'>;

function writeObservation(
  pen: Pen,
  visit: FieldVisit,
  phase: 'found' | 'left',
  at: Date,
  seen: Seen,
): Observation {
  const id = pen.makeId(at);
  const equipmentId = visit.machine.row.id;
  const facts = {
    ticketId: visit.ticketId,
    visitId: visit.id,
    equipmentId,
    code: seen.code,
    answer: seen.answer,
    source: 'observed',
    phase,
    photoSha256: seen.photoSha256 ?? null,
    observedAt: at,
  } as const;
  pen.add('observation', {
    ...facts,
    id,
    note: null,
    recordedAt: at,
    recordedById: visit.technician.id,
  });
  pen.note(at, visit.technician, {
    event: 'observation.recorded',
    subject: { kind: 'observation', id },
    after: facts,
  });
  return { id, equipmentId, ...seen, source: 'observed', phase, at: at.toISOString() };
}

/**
 * Writes the findings of a scenario. The verdict is the evidence rules' own, on what was recorded;
 * a finding it does not carry gets the owner's reason where the scenario has one.
 */
export function writeFindings(
  pen: Pen,
  visit: FieldVisit,
  { readings, observations }: Recorded,
  scenario: Scenario,
  at: Date,
  acts: Acts = {},
): WholeFinding[] {
  const { row, nameplate } = visit.machine;
  const evidence: Evidence = {
    equipment: plateOf(visit.machine),
    system: visit.place.systems
      .flatMap(({ outdoor, indoor }) => [outdoor, indoor])
      .filter((other) => other.row.systemId === row.systemId && other.row.id !== row.id)
      .map(plateOf),
    altitudeFt: visit.place.altitudeFt,
    readings,
    observations,
  };
  return scenario.findings.map(({ fault, task }, index) => {
    const foundAt = new Date(at.getTime() + index * 60_000);
    const override = acts.sellsUnproven === undefined ? scenario.override : undefined;
    return writeFinding(pen, visit, evidence, fault, task(nameplate), foundAt, override, acts);
  });
}

function plateOf({ row, kind, nameplate }: Machine): Evidence['equipment'] {
  return { id: row.id, kind, nameplate };
}

function writeFinding(
  pen: Pen,
  visit: FieldVisit,
  evidence: Evidence,
  faultCode: FaultCode,
  taskCode: TaskCode,
  foundAt: Date,
  override: string | undefined,
  { callsItRepair }: Acts,
): WholeFinding {
  const remedy = remedyFor(faultCode, taskCode);
  if (remedy === undefined) throw new Error(`${taskCode} does not mend ${faultCode}`);
  const verdict = evidenceRulesets[currentEvidenceRuleset].weigh(faultCode, evidence);
  const facts = {
    visitId: visit.id,
    equipmentId: visit.machine.row.id,
    faultCode,
    taskCode,
    remedyClass: callsItRepair ? 'repair' : remedy.remedyClass,
    standing: verdict.standing,
    rulesetVersion: currentEvidenceRuleset,
  };
  const id = pen.makeId(foundAt);
  const priceable = isCarried(faultCode, remedy, evidence, verdict);
  const stored = { ...facts, id, priceable, foundAt, recordedById: visit.technician.id };
  pen.add('finding', {
    ...stored,
    verdict: JSON.stringify(verdict),
    evidence: JSON.stringify(evidence),
  });
  pen.note(foundAt, visit.technician, {
    event: 'finding.added',
    subject: { kind: 'finding', id },
    after: { ...facts, evidenceSha256: sha256(canonicalJson(evidence)) },
  });
  const parts = partsFor(visit, remedy).map((part) => ({ findingId: id, ...part }));
  for (const { measured, ...part } of parts) {
    pen.add('finding_part', { ...part, measured: measured?.toFixed() ?? null });
  }
  return {
    ...stored,
    // What it should be called decides what it should cost.
    remedyClass: remedy.remedyClass,
    verdict,
    evidence,
    parts,
    override: priceable ? null : writeOverride(pen, id, override, foundAt),
  };
}

/** The first part of each kind in the book that fits the machine: one, or the charge of its plate. */
function partsFor({ book, machine }: FieldVisit, remedy: Remedy) {
  return remedy.partCategories.map((category) => {
    const part = book.parts.find(
      (each) =>
        each.fit.category === category &&
        partFits(machine.nameplate, remedy.task, fitOf(each)).fits,
    );
    if (part === undefined) throw new Error(`no ${category} of the price book fits`);
    return part.measured === undefined
      ? { partCode: part.code, quantity: 1, measured: null }
      : { partCode: part.code, quantity: null, measured: chargeLb(machine) };
  });
}

function chargeLb({ nameplate: { factoryChargeOz = 0 } }: Machine): Prisma.Decimal {
  return new Prisma.Decimal(factoryChargeOz).div(OZ_PER_LB).toDecimalPlaces(2);
}

const OZ_PER_LB = 16;

function writeOverride(pen: Pen, findingId: string, reason: string | undefined, foundAt: Date) {
  if (reason === undefined) return null;
  const { owner } = pen.plan;
  const grantedAt = new Date(foundAt.getTime() + 120_000);
  const override = { findingId, reason, grantedById: owner.id, grantedAt };
  pen.add('finding_override', override);
  pen.note(grantedAt, owner, {
    event: 'finding.overridden',
    subject: { kind: 'finding', id: findingId },
    after: { reason },
  });
  return override;
}
