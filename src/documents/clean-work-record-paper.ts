import {
  type CleanText,
  cleanCompany,
  cleanCustomer,
  cleanMeasurement,
  cleanSentences,
  cleanSite,
  cleanSystem,
  LENGTH,
} from './clean-parts.ts';
import type {
  PaperBeforeAfter,
  PaperOutcome,
  PaperPartLeftOver,
  PaperPartUsed,
  PaperRefrigerantMove,
  PaperVisit,
  PaperWork,
  WorkRecordPaper,
} from './work-record-paper.ts';

/** The same paper with every text fit to print. */
export function cleanWorkRecordPaper(paper: WorkRecordPaper, clean: CleanText): WorkRecordPaper {
  const sentence = (text: string) => clean(text, LENGTH.sentence);
  return {
    language: paper.language,
    company: cleanCompany(paper.company, clean),
    ticketNumber: clean(paper.ticketNumber, LENGTH.number),
    sequence: paper.sequence,
    issuedAt: paper.issuedAt,
    issuedText: clean(paper.issuedText, LENGTH.name),
    complaint: sentence(paper.complaint),
    complaintGone: paper.complaintGone,
    customer: cleanCustomer(paper.customer, clean),
    site: cleanSite(paper.site, clean),
    systems: paper.systems.map((system) => cleanSystem(system, clean)),
    visits: paper.visits.map((visit) => cleanVisit(visit, clean)),
    works: paper.works.map((work) => cleanWork(work, clean)),
    measuredAfter: paper.measuredAfter && cleanSentences(paper.measuredAfter, clean),
    noReadingsWhy: paper.noReadingsWhy && sentence(paper.noReadingsWhy),
    refrigerantMoves: paper.refrigerantMoves.map((move) => cleanMove(move, clean)),
    conditionLeft: sentence(paper.conditionLeft),
    dangerWarned: paper.dangerWarned && sentence(paper.dangerWarned),
    cautions: cleanSentences(paper.cautions, clean),
    contentHash: paper.contentHash && clean(paper.contentHash, LENGTH.hash),
  };
}

function cleanVisit(
  { dayText, technician, certificate }: PaperVisit,
  clean: CleanText,
): PaperVisit {
  return {
    dayText: clean(dayText, LENGTH.name),
    technician: clean(technician, LENGTH.name),
    certificate: certificate && clean(certificate, LENGTH.name),
  };
}

function cleanWork(work: PaperWork, clean: CleanText): PaperWork {
  return {
    name: clean(work.name, LENGTH.title),
    explanation: clean(work.explanation, LENGTH.sentence),
    system: work.system && clean(work.system, LENGTH.name),
    outcome: cleanOutcome(work.outcome, clean),
    readings: work.readings.map((reading) => cleanBeforeAfter(reading, clean)),
    observations: cleanSentences(work.observations, clean),
    doubts: work.doubts && cleanSentences(work.doubts, clean),
    parts: work.parts.map((part) => cleanPart(part, clean)),
    partsLeftOver: work.partsLeftOver.map((part) => cleanLeftOver(part, clean)),
  };
}

function cleanOutcome(outcome: PaperOutcome, clean: CleanText): PaperOutcome {
  switch (outcome.outcome) {
    case 'done': {
      const { task, isReset, laborWarrantyUntilText } = outcome;
      return {
        outcome: 'done',
        task: clean(task, LENGTH.title),
        isReset,
        laborWarrantyUntilText:
          laborWarrantyUntilText && clean(laborWarrantyUntilText, LENGTH.name),
      };
    }
    case 'not_done':
      return {
        outcome: 'not_done',
        task: clean(outcome.task, LENGTH.title),
        reason: clean(outcome.reason, LENGTH.sentence),
      };
    case 'not_agreed':
      return outcome;
  }
}

function cleanBeforeAfter({ before, after }: PaperBeforeAfter, clean: CleanText): PaperBeforeAfter {
  const cleanAfter = after && cleanMeasurement(after, clean);
  if (before !== undefined) return { before: cleanMeasurement(before, clean), after: cleanAfter };
  return { after: cleanMeasurement(after, clean) };
}

function cleanPart(part: PaperPartUsed, clean: CleanText): PaperPartUsed {
  return {
    name: clean(part.name, LENGTH.line),
    quantityText: clean(part.quantityText, LENGTH.number),
    serial: part.serial && clean(part.serial, LENGTH.name),
    oldPart: part.oldPart,
    oldSerial: part.oldSerial && clean(part.oldSerial, LENGTH.name),
  };
}

function cleanLeftOver(part: PaperPartLeftOver, clean: CleanText): PaperPartLeftOver {
  return {
    name: clean(part.name, LENGTH.line),
    quantityText: clean(part.quantityText, LENGTH.number),
    reason: clean(part.reason, LENGTH.sentence),
  };
}

function cleanMove(move: PaperRefrigerantMove, clean: CleanText): PaperRefrigerantMove {
  return {
    dayText: clean(move.dayText, LENGTH.name),
    system: clean(move.system, LENGTH.name),
    refrigerant: clean(move.refrigerant, LENGTH.number),
    direction: move.direction,
    weightText: clean(move.weightText, LENGTH.number),
    cylinder: clean(move.cylinder, LENGTH.name),
    certificate: clean(move.certificate, LENGTH.name),
  };
}
