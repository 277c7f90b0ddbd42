import type { PaperLanguage } from './paper-parts.ts';
import { type PaperWords, paperWords } from './paper-words.ts';
import { spanishWorkRecordWords } from './spanish-work-record-words.ts';
import type {
  PaperOutcome,
  PaperPartUsed,
  PaperRefrigerantMove,
  WorkRecordPaper,
} from './work-record-paper.ts';

/** Every word the record of the work says of its own accord. */
export interface WorkRecordWords extends PaperWords {
  title: string;
  ticket: (ticketNumber: string) => string;
  fileTitle: (ticketNumber: string, company: string) => string;
  closed: (day: string) => string;
  /** Of a job that was closed more than once. */
  again: (sequence: number) => string;
  complaintGone: Record<WorkRecordPaper['complaintGone'], string>;
  calledAbout: (complaint: string) => string;
  visits: string;
  works: Record<'done' | 'found', string>;
  outcome: Record<PaperOutcome['outcome'], string>;
  done: (task: string) => string;
  warranty: (day: string) => string;
  /** The same of a reset, which mended nothing. */
  resetAgain: (day: string) => string;
  notDone: (task: string, reason: string) => string;
  notAgreed: string;
  inSystem: (system: string) => string;
  before: Moment;
  after: Moment;
  measuredAfter: (readings: string) => string;
  noReadings: (why: string) => string;
  partsUsed: string;
  serial: (serial: string) => string;
  oldPart: Record<NonNullable<PaperPartUsed['oldPart']>, string>;
  partsLeftOver: string;
  refrigerant: string;
  refrigerantColumns: Record<'move' | 'weight', string>;
  moved: Record<PaperRefrigerantMove['direction'], (what: string, system: string) => string>;
  movedDetail: (day: string, cylinder: string, certificate: string) => string;
}

/** When a reading was taken: as a word beside its gauge, and in the sentence that stands for it. */
export interface Moment {
  word: string;
  alt: (label: string) => string;
}

export const workRecordWords: Record<PaperLanguage, WorkRecordWords> = {
  en: {
    ...paperWords.en,
    title: 'Record of the work',
    ticket: (ticketNumber) => `Job ${ticketNumber}`,
    fileTitle: (ticketNumber, company) => `Record of job ${ticketNumber} by ${company}`,
    closed: (day) => `Closed ${day}`,
    again: (sequence) => `Closing ${sequence} of this job`,
    complaintGone: {
      yes: 'What you called about is solved.',
      no: 'What you called about is not solved.',
      not_tried: 'It could not be tried whether what you called about is solved.',
    },
    calledAbout: (complaint) => `You called about: ${complaint}`,
    visits: 'Who was there',
    works: { done: 'What we found and did', found: 'What we found' },
    outcome: { done: 'Done', not_done: 'Not done', not_agreed: 'Found only' },
    done: (task) => `Done: ${task}.`,
    warranty: (day) =>
      `If it fails in the same way by ${day}, we mend it again without a charge for labor.`,
    resetAgain: (day) =>
      `If it happens again by ${day}, call us: we come and look without a charge for the visit.`,
    notDone: (task, reason) => `Not done: ${task}. ${reason}`,
    notAgreed: 'No work was agreed to for it.',
    inSystem: (system) => `System: ${system}`,
    before: { word: 'Before', alt: (label) => `${label}, before the work` },
    after: { word: 'After', alt: (label) => `${label}, after the work` },
    measuredAfter: (readings) => `Measured after the work: ${readings}.`,
    noReadings: (why) => `No readings after the work. ${why}`,
    partsUsed: 'Parts put in',
    serial: (serial) => `serial ${serial}`,
    oldPart: {
      given_to_customer: 'You were given the old one',
      customer_did_not_want_it: 'You did not want the old one',
      kept_for_claim: 'We keep the old one for the warranty claim',
      none: 'There was no old one',
    },
    partsLeftOver: 'Not put in',
    refrigerant: 'Refrigerant',
    refrigerantColumns: { move: 'By the weight of the cylinder', weight: 'Weight' },
    moved: {
      charged: (what, system) => `${what} put into ${system}`,
      recovered: (what, system) => `${what} taken out of ${system}`,
    },
    movedDetail: (day, cylinder, certificate) => `${day}; cylinder ${cylinder}; ${certificate}`,
  },
  es: spanishWorkRecordWords,
};
