import type { erasedCodes, stayingCodes } from './contract.ts';

/** What each thing that was overwritten is, for the owner to pass on. */
export const ERASED: Record<(typeof erasedCodes)[number], string> = {
  person: 'Name, phone and e-mail; and what would tell whose hashes the journal holds.',
  addresses:
    'Addresses where nobody else lives, approves or pays, with notes and place on the map.',
  complaints: 'What was said at the call and again later, on the tickets.',
  phone_checks: 'What was answered by phone, with every note.',
  visits: 'Who agreed to the fee or a window, and why nobody was met.',
  deliveries: 'Where mails and texts went; letters about corrections; links to quotes are closed.',
  payers: 'Who paid, on each payment.',
};

interface Staying {
  text: string;
  why: string;
}

/** What stays, and why. Where the law sets no longer time, counsel says how long. */
export const STAYS: Record<(typeof stayingCodes)[number], Staying> = {
  papers: {
    text: 'Issued quotes, records of work, invoices and credit memos, as they were issued.',
    why: 'Tax and contract law ask for them unchanged, name and address included, for years.',
  },
  answers: {
    text: 'The yes, the no and the cancellation to a quote, with the name that was signed.',
    why: 'They prove what was agreed to, and what was warned of.',
  },
  money: {
    text: 'Payments and refunds: day, amount, way and number, without a name.',
    why: 'Bookkeeping must add up, and a payment must be found again.',
  },
  work: {
    text: 'Readings, findings, parts and refrigerant of each visit, without a name.',
    why: 'They prove that the charges were right; records of refrigerant are a duty.',
  },
  photos: {
    text: 'Photos of equipment.',
    why: 'Findings on issued papers rest on them.',
  },
};
