import type {
  AcceptancePaper,
  CreditMemoPaper,
  DeclinePaper,
  InvoicePaper,
  Paper,
  PaperLanguage,
  PaperMeasurement,
  WorkRecordPaper,
} from '../../src/documents/index.ts';
import { capacitorAndContactor, changeOrder, lumpSum, threeOptions } from './sample-papers.ts';

/** Invented papers of every kind but the quote, in both languages. Amounts are hand-made. */

const { company, customer, site, systems, cautions, contentHash, findings } = capacitorAndContactor;

const reading = {
  label: 'Capacitor, compressor side',
  unit: 'µF',
  decimals: 1,
  low: 40.5,
  high: 47.7,
  limitText: 'Nameplate 45 µF; failed when more than 10 % below',
} as const satisfies Partial<PaperMeasurement>;

const drop = {
  label: 'Voltage lost across the contacts',
  unit: 'V',
  decimals: 2,
  limitDecimals: 2,
  high: 0.5,
  limitText: 'At most 0.50 V under load',
} as const satisfies Partial<PaperMeasurement>;

function optionOf({ options: [option] }: typeof capacitorAndContactor) {
  if (option === undefined) throw new Error('a sample quote has an option');
  return option;
}

export const acceptance: AcceptancePaper = {
  language: 'en',
  company,
  quoteNumber: '10042',
  revision: 1,
  issuedAt: '2026-07-14T20:52:19Z',
  acceptedText: 'July 14, 2026, 3:52 PM CDT',
  customer,
  site,
  option: optionOf(capacitorAndContactor),
  optionCount: 1,
  acceptedByName: 'Marisol Quintero-Hale',
  given: { way: 'link' },
  consentText:
    'I accept “Replace the capacitor and the contactor” from quote 10042, revision 1, for $382.10 in total, and ask Cedar Street Comfort to do this work as it is written on this page. I have read what was found, the prices, the notes and the terms. My name, typed below, stands for my signature.',
  cancelUntilText: 'July 17, 2026',
  legalTexts: capacitorAndContactor.legalTexts.slice(0, 1),
  cautions,
  contentHash,
};

export const acceptedChange: AcceptancePaper = {
  ...acceptance,
  quoteNumber: '10045',
  option: optionOf(changeOrder),
  changes: changeOrder.changes,
  given: { way: 'staff', recordedBy: 'Rowan Pike' },
  beyondLimitAgreedBy: 'Sample Property Management',
  cancelUntilText: undefined,
};

export const acceptedLumpSum: AcceptancePaper = {
  ...acceptance,
  option: { ...optionOf(lumpSum), letter: 'B' },
  optionCount: 2,
  given: { way: 'signed_paper', recordedBy: 'Rowan Pike' },
};

export const decline: DeclinePaper = {
  language: 'en',
  company,
  quoteNumber: '10042',
  revision: 1,
  issuedAt: '2026-07-14T20:52:19Z',
  declinedText: 'July 14, 2026, 3:52 PM CDT',
  customer,
  site,
  systems,
  findings,
  offered: threeOptions.options.map(({ letter, title, totalCents }) => ({
    letter,
    title,
    totalCents,
  })),
  declinedByName: 'Marisol Quintero-Hale',
  given: { way: 'staff', recordedBy: 'Rowan Pike' },
  reason: 'Wants to ask the landlord first.',
  conditionLeft:
    'Off at the disconnect. The outdoor unit does not cool, and the fan alone would run hot.',
  dangerWarned:
    'Do not switch the outdoor unit on: the compressor draws its full starting current and can burn its wiring.',
  decline: capacitorAndContactor.decline,
  cautions,
  contentHash,
};

export const declinedChange: DeclinePaper = {
  ...decline,
  given: { way: 'link' },
  reason: undefined,
  conditionLeft: undefined,
  dangerWarned: undefined,
  offered: changeOrder.options.map(({ letter, title, totalCents }) => ({
    letter,
    title,
    totalCents,
  })),
  decline: { amounts: [], totalCents: 0 },
  changes: changeOrder.changes,
};

export const invoice: InvoicePaper = {
  kind: 'invoice',
  language: 'en',
  company,
  invoiceNumber: '2107',
  ticketNumber: '5518',
  issuedAt: '2026-07-16T15:00:00Z',
  issuedText: 'July 16, 2026',
  dueText: 'July 30, 2026',
  payer: { name: 'Sample Property Management' },
  site,
  visitDays: ['July 14, 2026', 'July 16, 2026'],
  documents: [
    {
      position: 1,
      title: 'Quote 10042, as accepted',
      prices: {
        kind: 'separated',
        lines: [
          { description: 'Visit fee, daytime', amountCents: 8_900 },
          { description: 'Replace the dual run capacitor', amountCents: 7_550 },
          { description: 'Dual run capacitor 45/5 µF, 440 V', amountCents: 6_318 },
          { description: 'Visit fee credited when you accept', amountCents: -8_900 },
        ],
      },
      taxes: [{ label: 'Sales tax 8.25 %', amountCents: 1_144 }],
      totalCents: 15_012,
    },
    {
      position: 2,
      title: 'Quote 10045, as accepted',
      prices: {
        kind: 'lump_sum',
        lines: [{ description: 'Clear and flush the drain' }, { description: 'Float switch' }],
        priceCents: 11_325,
      },
      taxes: [],
      totalCents: 11_325,
    },
    {
      position: 3,
      title: 'Work of quote 10045 that was not done',
      prices: { kind: 'lump_sum', lines: [{ description: 'Float switch' }], priceCents: -4_000 },
      taxes: [],
      totalCents: -4_000,
    },
  ],
  taxCents: 1_144,
  totalCents: 22_337,
  cautions,
  contentHash,
};

export const creditMemo: CreditMemoPaper = {
  kind: 'credit_memo',
  language: 'en',
  company,
  memoNumber: '31',
  invoiceNumber: '2107',
  ticketNumber: '5518',
  issuedAt: '2026-07-20T15:00:00Z',
  issuedText: 'July 20, 2026',
  payer: { name: 'Sample Property Management' },
  reason: 'The repair did not cure the fault; it is credited toward the right one.',
  documents: [
    {
      position: 1,
      title: 'Document 1 of invoice 2107',
      prices: {
        kind: 'separated',
        lines: [
          { description: 'Replace the dual run capacitor', amountCents: 7_550 },
          { description: 'Dual run capacitor 45/5 µF, 440 V', amountCents: 6_318 },
        ],
      },
      taxes: [{ label: 'Sales tax 8.25 %', amountCents: 1_144 }],
      totalCents: 15_012,
    },
  ],
  taxCents: 1_144,
  totalCents: 15_012,
  contentHash,
};

/** Of a tax that was too much by itself: no charge goes back with it. */
export const creditMemoOfTax: CreditMemoPaper = {
  ...creditMemo,
  memoNumber: '32',
  reason: 'The sales tax was more than is owed on this work.',
  documents: [
    {
      position: 1,
      title: 'Quote 1002, as accepted',
      prices: { kind: 'separated', lines: [] },
      taxes: [
        { label: 'Sales tax, 8.25% of parts (now $9.94 instead of $14.76)', amountCents: 482 },
      ],
      totalCents: 482,
    },
  ],
  taxCents: 482,
  totalCents: 482,
};

export const workRecord: WorkRecordPaper = {
  language: 'en',
  company,
  ticketNumber: '5518',
  sequence: 2,
  issuedAt: '2026-07-16T15:00:00Z',
  issuedText: 'July 16, 2026',
  complaint: 'No cooling since the morning, and a humming outside.',
  complaintGone: 'yes',
  customer,
  site,
  systems,
  visits: [
    { dayText: 'July 14, 2026', technician: 'Rowan Pike' },
    {
      dayText: 'July 16, 2026',
      technician: 'Ines Albright',
      certificate: 'Section 608 certificate, Universal, EX-00417',
    },
  ],
  works: [
    {
      name: 'The run capacitor has failed',
      explanation:
        'The compressor side had lost almost a third of its strength, so the compressor hummed and did not start.',
      outcome: {
        outcome: 'done',
        task: 'Replace the dual run capacitor',
        laborWarrantyUntilText: 'July 14, 2027',
      },
      readings: [
        {
          before: { ...reading, value: 31.2, uncertainty: 0.9, verdict: 'outside' },
          after: { ...reading, value: 45.3, uncertainty: 1.4, verdict: 'within' },
        },
        {
          before: { ...drop, value: 118, decimals: 0, uncertainty: 1, verdict: 'outside' },
          after: { ...drop, value: 0.05, uncertainty: 0.02, verdict: 'within' },
        },
      ],
      observations: ['The compressor starts at once.'],
      parts: [
        {
          name: 'Dual run capacitor 45/5 µF, 440 V',
          quantityText: '1 piece',
          serial: 'EX-77120-04',
          oldPart: 'given_to_customer',
          oldSerial: 'EX-31992-11',
        },
      ],
      partsLeftOver: [],
    },
    {
      name: 'The contactor is worn',
      explanation: 'Its contacts are pitted and drop voltage when they carry current.',
      system: 'Outdoor unit, split system',
      outcome: {
        outcome: 'not_done',
        task: 'Replace the contactor',
        reason: 'The part came with a 120 V coil; the right one is ordered.',
      },
      readings: [{ before: { ...drop, value: 0.62, uncertainty: 0.14, verdict: 'undecided' } }],
      observations: [],
      parts: [],
      partsLeftOver: [
        {
          name: 'Contactor, two-pole, 40 A, 24 V coil',
          quantityText: '1 piece',
          reason: 'wrong coil, went back to the store',
        },
      ],
    },
    {
      name: 'The breaker was tripped',
      explanation: 'It switches itself off when too much current flows.',
      outcome: {
        outcome: 'done',
        task: 'Reset the breaker',
        isReset: true,
        laborWarrantyUntilText: 'August 15, 2026',
      },
      readings: [],
      observations: [],
      doubts: ['A tripped breaker is not the cause: usually something drew too much current.'],
      parts: [],
      partsLeftOver: [],
    },
    {
      name: 'The filter is dirty',
      explanation: 'It chokes the air. It can be changed by hand.',
      outcome: { outcome: 'not_agreed' },
      readings: [],
      observations: [],
      parts: [],
      partsLeftOver: [],
    },
  ],
  noReadingsWhy: 'It rained, and the panel was not opened again.',
  refrigerantMoves: [
    {
      dayText: 'July 16, 2026',
      system: 'Outdoor unit, split system',
      refrigerant: 'R-410A',
      direction: 'charged',
      weightText: '2 lb 4.0 oz',
      cylinder: 'C-118',
      certificate: 'Universal, EX-00417',
    },
    {
      dayText: 'July 16, 2026',
      system: 'Outdoor unit, split system',
      refrigerant: 'R-410A',
      direction: 'recovered',
      weightText: '0 lb 3.5 oz',
      cylinder: 'R-020',
      certificate: 'Universal, EX-00417',
    },
  ],
  conditionLeft: 'Cooling, 18 °F across the coil. The panel is closed and the area is clean.',
  dangerWarned: undefined,
  cautions,
  contentHash,
};

const english: Record<string, Paper> = {
  quote: { kind: 'quote', paper: capacitorAndContactor },
  changeOrder: { kind: 'quote', paper: changeOrder },
  acceptance: { kind: 'acceptance', paper: acceptance },
  acceptedChange: { kind: 'acceptance', paper: acceptedChange },
  acceptedLumpSum: { kind: 'acceptance', paper: acceptedLumpSum },
  decline: { kind: 'decline', paper: decline },
  declinedChange: { kind: 'decline', paper: declinedChange },
  invoice: { kind: 'invoice', paper: invoice },
  creditMemo: { kind: 'credit_memo', paper: creditMemo },
  creditMemoOfTax: { kind: 'credit_memo', paper: creditMemoOfTax },
  workRecord: { kind: 'work_record', paper: workRecord },
};

/** The same paper set in another language; what people wrote stays as they wrote it. */
export function inLanguage(paper: Paper, language: PaperLanguage): Paper {
  switch (paper.kind) {
    case 'quote':
      return { ...paper, paper: { ...paper.paper, language } };
    case 'acceptance':
      return { ...paper, paper: { ...paper.paper, language } };
    case 'decline':
      return { ...paper, paper: { ...paper.paper, language } };
    case 'invoice':
      return { ...paper, paper: { ...paper.paper, language } };
    case 'credit_memo':
      return { ...paper, paper: { ...paper.paper, language } };
    case 'work_record':
      return { ...paper, paper: { ...paper.paper, language } };
  }
}

/** Every kind in English and in Spanish. */
export const sampleKinds: Record<string, Paper> = Object.fromEntries(
  Object.entries(english).flatMap(([name, paper]) => [
    [name, paper],
    [`${name}InSpanish`, inLanguage(paper, 'es')],
  ]),
);
