import { localDayText } from '../company/index.ts';
import {
  type PaperLanguage,
  type PaperOutcome,
  type PaperRefrigerantMove,
  type PaperVisit,
  type PaperWork,
  usualCautions,
  type WorkRecordPaper,
} from '../documents/index.ts';
import { paperCompany } from '../invoices/index.ts';
import type { Frozen } from '../papers/index.ts';
import { goodsUnitSchema, measuredText } from '../pricing/index.ts';
import { findingOnPaper, paperSystem, paperWords } from '../quotes/index.ts';
import { partCategorySchema } from '../trade/index.ts';
import { complaintGoneSchema, directionSchema, oldPartSchema } from './contract.ts';
import { movedOz } from './move-refrigerant.ts';
import { readingText } from './reading-text.ts';
import { readingsBeside } from './readings-beside.ts';
import type { FoundAndDone, RecordFacts, SoldAs } from './record-facts.ts';
import { recordWords } from './record-words.ts';

type UnhashedRecord = Omit<WorkRecordPaper, 'contentHash'>;

/** The record of the work in both languages, from plain data: frozen as one, under one hash. */
export function workRecordOf(facts: RecordFacts): Frozen<WorkRecordPaper> {
  return { ...recordIn('en', facts), inSpanish: recordIn('es', facts) };
}

function recordIn(language: PaperLanguage, facts: RecordFacts): UnhashedRecord {
  const { company, closing, complaint, visits, works, readAfter, moves, equipment } = facts;
  const { ticket, noReadingsWhy, dangerWarned } = closing;
  const { site } = ticket;
  const { street, unit, city, region, postalCode, occupant } = site;
  const { timeZone } = company;
  return {
    language,
    company: paperCompany(company),
    ticketNumber: String(ticket.number),
    sequence: closing.sequence,
    issuedAt: closing.closedAt.toISOString(),
    issuedText: localDayText(closing.closedAt, timeZone, language),
    complaint,
    complaintGone: complaintGoneSchema.parse(closing.complaintGone),
    customer: { name: occupant.name },
    site: {
      occupant: occupant.name,
      address: { street: unit === null ? street : `${street}, ${unit}`, city, region, postalCode },
    },
    systems: equipment.map((machine) => paperSystem(machine, language)),
    visits: visits.map((visit) => visitIn(language, visit, facts)),
    works: works.map((work) => workIn(language, work, facts)),
    ...(readAfter.length > 0 && {
      measuredAfter: readAfter.map((reading) => readingText(reading, language)),
    }),
    ...(noReadingsWhy !== null && readAfter.length === 0 && { noReadingsWhy }),
    refrigerantMoves: moves.map((move) => moveIn(language, move, timeZone)),
    conditionLeft: closing.conditionLeft,
    ...(dangerWarned !== null && { dangerWarned }),
    cautions: usualCautions[language],
  };
}

function visitIn(
  language: PaperLanguage,
  { id, arrivedAt, windowStart, technician }: RecordFacts['visits'][number],
  { company: { timeZone }, moves }: RecordFacts,
): PaperVisit {
  const words = recordWords[language];
  const move = moves.find((each) => each.visitId === id && each.recordedById === technician.id);
  const certificate =
    move && words.certificate(typeIn(language, move.certificateType), move.certificateNumber);
  return {
    dayText: localDayText(arrivedAt ?? windowStart, timeZone, language),
    technician: technician.name,
    ...(certificate !== undefined && { certificate }),
  };
}

function typeIn(language: PaperLanguage, type: string): string {
  return recordWords[language].types[type] ?? type;
}

function workIn(
  language: PaperLanguage,
  { finding, after, outcome, parts, leftOver }: FoundAndDone,
  { equipment, works }: RecordFacts,
): PaperWork {
  const { name, explanation, observations, doubts } = findingOnPaper[language](
    finding,
    works.map((work) => work.finding),
  );
  const machine = equipment.find(({ id }) => id === finding.equipmentId);
  return {
    name,
    explanation,
    ...(equipment.length > 1 && machine && { system: paperSystem(machine, language).name }),
    outcome: outcomeIn(language, finding, outcome),
    readings: readingsBeside(finding.criteria, after, language),
    observations,
    ...(doubts.length > 0 && { doubts }),
    parts: parts.map(({ serial, oldSerial, oldPart, ...part }) => ({
      name: partName(language, part),
      quantityText: quantityText(language, part),
      ...(serial !== null && { serial }),
      // What is put in by weight or length takes no old one's place.
      ...(part.measured === null && { oldPart: oldPartSchema.parse(oldPart) }),
      ...(oldSerial !== null && { oldSerial }),
    })),
    partsLeftOver: leftOver.map((part) => ({
      name: partName(language, part),
      quantityText: quantityText(language, part),
      reason: part.reason,
    })),
  };
}

function outcomeIn(
  language: PaperLanguage,
  { taskCode, remedyClass }: FoundAndDone['finding'],
  outcome: FoundAndDone['outcome'],
): PaperOutcome {
  const task = paperWords[language].taskName(taskCode);
  if (outcome === undefined) return { outcome: 'not_agreed' };
  const { reason, laborWarrantyUntil } = outcome;
  if (outcome.outcome === 'not_done') return { outcome: 'not_done', task, reason: reason ?? '' };
  return {
    ...{ outcome: 'done', task },
    ...(remedyClass === 'reset' && { isReset: true }),
    // A calendar day is kept as the midnight that begins it in UTC.
    ...(laborWarrantyUntil !== null && {
      laborWarrantyUntilText: localDayText(laborWarrantyUntil, 'UTC', language),
    }),
  };
}

function partName(language: PaperLanguage, { name, category }: SoldAs): string {
  if (category === undefined) return name;
  return paperWords[language].partName(partCategorySchema.parse(category), name);
}

function quantityText(
  language: PaperLanguage,
  part: SoldAs & { quantity: number | null; measured: { toFixed(): string } | null },
): string {
  const { quantity, measured, unit } = part;
  if (quantity !== null || measured === null) return recordWords[language].pieces(quantity ?? 0);
  return unit === null
    ? measured.toFixed()
    : measuredText(measured.toFixed(), goodsUnitSchema.parse(unit));
}

function moveIn(
  language: PaperLanguage,
  move: RecordFacts['moves'][number],
  timeZone: string,
): PaperRefrigerantMove {
  const { movedAt, equipment, refrigerant, cylinder, certificateType, certificateNumber } = move;
  const moved = movedOz(move);
  const pounds = moved.divToInt(16);
  return {
    dayText: localDayText(movedAt, timeZone, language),
    system: paperSystem(equipment, language).name,
    refrigerant,
    direction: directionSchema.parse(move.direction),
    weightText: recordWords[language].weight(
      pounds.toNumber(),
      moved.minus(pounds.times(16)).toFixed(1),
    ),
    cylinder,
    certificate: `${typeIn(language, certificateType)}, ${certificateNumber}`,
  };
}
