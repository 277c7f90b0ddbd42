import type { PaperLanguage, PaperStanding, PaperVerdict } from './paper-parts.ts';
import { spanishPaperWords } from './spanish-paper-words.ts';
import { sumInWords } from './sum-in-words.ts';

/** What papers of every kind say of their own accord. Another language is another table. */
export interface PaperWords {
  languageTag: string;
  issued: (dateText: string) => string;
  license: (licenseNumber: string) => string;
  serviceAddress: string;
  occupant: (name: string) => string;
  equipment: string;
  findings: string;
  standing: Record<PaperStanding, string>;
  standingMeaning: Record<PaperStanding, string>;
  speaksAgainst: (statement: string) => string;
  offeredBecause: (reason: string) => string;
  limit: (limit: string) => string;
  verdict: Record<PaperVerdict, string>;
  gaugeLegend: string;
  doubts: string;
  observations: string;
  beCareful: string;
  gaugeAlt: (gauge: GaugeWords) => string;
  unitInFull: Record<string, string>;
  option: (letter: string, title: string) => string;
  column: Record<'line' | 'calculation' | 'quantity' | 'amount', string>;
  subtotal: string;
  total: string;
  lumpSumPrice: string;
  lumpSumNote: string;
  /** What a no to a change order leaves. */
  nothingAdded: (changed: ChangedQuote) => string;
  together: (changed: ChangedQuote) => string;
  sum: (parts: readonly { label: string; amount: string }[], total: string) => string;
  cautions: string;
  /** Of papers that have no terms to say it. */
  localCodes: string;
  legal: string;
  contentHash: string;
  page: (pageNumber: number, pageCount: number) => string;
  /** Beside the code that leads there: where anyone can look up what this paper says. */
  checkHere: string;
  checkHow: string;
  preparedFor: string;
  withTax: string;
  /** Above a danger that somebody was warned of. */
  danger: string;
  howLeft: string;
  codeAlt: (pageUrl: string) => string;
}

/** What a change order adds to, in texts. */
export interface ChangedQuote {
  number: string;
  agreed: string;
  hasGrown: boolean;
}

/** What a gauge shows, in texts, for the sentence that stands in for it. */
export interface GaugeWords {
  label: string;
  value: string;
  unit: string;
  uncertainty: string | undefined;
  low: string | undefined;
  high: string | undefined;
  verdict: PaperVerdict;
}

export const paperWords: Record<PaperLanguage, PaperWords> = {
  en: {
    languageTag: 'en-US',
    issued: (dateText) => `Issued ${dateText}`,
    license: (licenseNumber) => `License ${licenseNumber}`,
    serviceAddress: 'Service address',
    occupant: (name) => `Occupant: ${name}`,
    equipment: 'Your equipment',
    findings: 'What we found',
    standing: {
      proven: 'Proven',
      supported: 'Likely',
      unproven: 'Not proven',
      contradicted: 'Evidence against it',
    },
    standingMeaning: {
      proven: 'The evidence settles it.',
      supported: 'The signs point here; not every other cause has been ruled out.',
      unproven: 'The evidence does not settle it.',
      contradicted: 'The evidence speaks against it.',
    },
    speaksAgainst: (statement) => `The evidence speaks against it: ${statement}`,
    offeredBecause: (reason) => `The owner offers the work for this reason: ${reason}`,
    limit: (limit) => `limit ${limit}`,
    verdict: {
      within: 'Within limits',
      outside: 'Outside limits',
      undecided: 'Too close to call',
      present: 'It is there',
      absent: 'None',
    },
    gaugeLegend:
      'In each gauge below the darker band is what is allowed; the mark is what we measured.',
    doubts: 'Not settled yet',
    observations: 'What we saw',
    beCareful: 'Be careful',
    gaugeAlt: gaugeAltEnglish,
    unitInFull: {
      μF: 'microfarads',
      V: 'volts',
      A: 'amperes',
      Ω: 'ohms',
      kΩ: 'kilohms',
      MΩ: 'megohms',
      '°F': 'degrees Fahrenheit',
      psi: 'pounds per square inch',
      psig: 'pounds per square inch gauge',
      'in. w.c.': 'inches of water column',
      W: 'watts',
      '%': 'percent',
      min: 'minutes',
      h: 'hours',
      lb: 'pounds',
      oz: 'ounces',
      ft: 'feet',
      microns: 'microns of mercury',
      CFM: 'cubic feet per minute',
    },
    option: (letter, title) => `Option ${letter}: ${title}`,
    column: {
      line: 'Work and parts',
      calculation: 'Quantity × price',
      quantity: 'Quantity',
      amount: 'Amount',
    },
    subtotal: 'Subtotal before tax',
    total: 'Total',
    lumpSumPrice: 'One price for all of the above',
    lumpSumNote: 'This is a lump-sum price: work and parts are listed without separate prices.',
    nothingAdded: ({ number, agreed, hasGrown }) =>
      hasGrown
        ? `Nothing is added. Quote ${number} and what you added to it before, ${agreed} in all, stand.`
        : `Nothing is added. Quote ${number} for ${agreed} stands.`,
    together: ({ number, hasGrown }) =>
      hasGrown
        ? `Together with quote ${number} and what was added to it`
        : `Together with quote ${number}`,
    sum: sumInWords,
    cautions: 'Please note',
    localCodes: 'Local codes and licensed practice rule over anything on this paper.',
    legal: 'Terms and your rights',
    contentHash: 'Content fingerprint (SHA-256)',
    page: (pageNumber, pageCount) => `Page ${pageNumber} of ${pageCount}`,
    checkHere: 'Is this paper genuine?',
    checkHow: 'The code opens a page that shows what we issued. It asks for nothing.',
    preparedFor: 'Prepared for',
    withTax: 'Total with tax',
    danger: 'We warned you of a danger',
    howLeft: 'How we left the system',
    codeAlt: (pageUrl) => `QR code that opens ${pageUrl}`,
  },
  es: spanishPaperWords,
};

function gaugeAltEnglish(gauge: GaugeWords): string {
  const { label, value, unit, uncertainty, low, high, verdict } = gauge;
  const spread = uncertainty === undefined ? '' : `, give or take ${uncertainty}`;
  return `${label}: measured ${value} ${unit}${spread}. ${allowedEnglish(low, high, unit)} ${VERDICT_SENTENCES[verdict]}`;
}

function allowedEnglish(low: string | undefined, high: string | undefined, unit: string): string {
  if (low !== undefined && high !== undefined) return `Allowed: ${low} to ${high} ${unit}.`;
  if (low !== undefined) return `Allowed: ${low} ${unit} or more.`;
  if (high !== undefined) return `Allowed: ${high} ${unit} or less.`;
  return 'No limit is given.';
}

const VERDICT_SENTENCES: Record<PaperVerdict, string> = {
  within: 'The reading is within its limits.',
  outside: 'The reading is outside its limits.',
  undecided: 'The reading is too close to a limit for this instrument to decide.',
  present: 'It is there.',
  absent: 'There is none.',
};
