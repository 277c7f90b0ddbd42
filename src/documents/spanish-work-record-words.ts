import { spanishPaperWords } from './spanish-paper-words.ts';
import type { WorkRecordWords } from './work-record-words.ts';

/** The words of a record of the work for a reader of Spanish in the United States. */
export const spanishWorkRecordWords: WorkRecordWords = {
  ...spanishPaperWords,
  title: 'Registro del trabajo',
  ticket: (ticketNumber) => `Trabajo ${ticketNumber}`,
  fileTitle: (ticketNumber, company) => `Registro del trabajo ${ticketNumber} de ${company}`,
  closed: (day) => `Cerrado el ${day}`,
  again: (sequence) => `Cierre ${sequence} de este trabajo`,
  complaintGone: {
    yes: 'Lo que lo hizo llamarnos está resuelto.',
    no: 'Lo que lo hizo llamarnos no está resuelto.',
    not_tried: 'No se pudo comprobar si está resuelto lo que lo hizo llamarnos.',
  },
  calledAbout: (complaint) => `Usted llamó por: ${complaint}`,
  visits: 'Quién estuvo allí',
  works: { done: 'Lo que encontramos e hicimos', found: 'Lo que encontramos' },
  outcome: { done: 'Hecho', not_done: 'No hecho', not_agreed: 'Solo encontrado' },
  done: (task) => `Hecho: ${task}.`,
  warranty: (day) =>
    `Si falla de la misma manera hasta el ${day}, lo arreglamos otra vez sin cobrar la mano de obra.`,
  resetAgain: (day) =>
    `Si vuelve a pasar hasta el ${day}, llámenos: vamos a revisarlo sin cobrar la visita.`,
  notDone: (task, reason) => `No hecho: ${task}. ${reason}`,
  notAgreed: 'No se acordó ningún trabajo para esto.',
  inSystem: (system) => `Sistema: ${system}`,
  before: { word: 'Antes', alt: (label) => `${label}, antes del trabajo` },
  after: { word: 'Después', alt: (label) => `${label}, después del trabajo` },
  measuredAfter: (readings) => `Medido después del trabajo: ${readings}.`,
  noReadings: (why) => `No hay lecturas después del trabajo. ${why}`,
  partsUsed: 'Piezas instaladas',
  serial: (serial) => `serie ${serial}`,
  oldPart: {
    given_to_customer: 'Le entregamos la pieza vieja',
    customer_did_not_want_it: 'Usted no quiso la pieza vieja',
    kept_for_claim: 'Guardamos la pieza vieja para reclamar la garantía',
    none: 'No había pieza vieja',
  },
  partsLeftOver: 'No instaladas',
  refrigerant: 'Refrigerante',
  refrigerantColumns: { move: 'Según el peso del cilindro', weight: 'Peso' },
  moved: {
    charged: (what, system) => `${what} agregado a: ${system}`,
    recovered: (what, system) => `${what} retirado de: ${system}`,
  },
  movedDetail: (day, cylinder, certificate) => `${day}; cilindro ${cylinder}; ${certificate}`,
};
