import type {
  PaperAddress,
  PaperAmount,
  PaperAnswerWay,
  PaperChanged,
  PaperCompany,
  PaperCustomer,
  PaperDecline,
  PaperFinding,
  PaperLegalText,
  PaperLine,
  PaperMeasurement,
  PaperOption,
  PaperPricedLine,
  PaperPrices,
  PaperSite,
  PaperSystem,
} from './paper-parts.ts';
import { withTimesSign } from './times-sign.ts';

/** Makes one text fit to print and no longer than the given number of characters. */
export type CleanText = (raw: string, lengthMax: number) => string;

/** The most characters of each; wider than anything a person would write. */
export const LENGTH = {
  number: 40,
  unit: 20,
  hash: 128,
  name: 120,
  title: 160,
  line: 240,
  sentence: 1200,
  legalParagraph: 20_000,
} as const;

export function cleanCompany(company: PaperCompany, clean: CleanText): PaperCompany {
  return {
    name: clean(company.name, LENGTH.name),
    address: cleanAddress(company.address, clean),
    phone: clean(company.phone, LENGTH.number),
    email: clean(company.email, LENGTH.name),
    licenseNumber: clean(company.licenseNumber, LENGTH.number),
    regulatorLine: clean(company.regulatorLine, LENGTH.line),
  };
}

function cleanAddress(address: PaperAddress, clean: CleanText): PaperAddress {
  return {
    street: clean(address.street, LENGTH.name),
    city: clean(address.city, LENGTH.name),
    region: clean(address.region, LENGTH.number),
    postalCode: clean(address.postalCode, LENGTH.number),
  };
}

export function cleanSystem(system: PaperSystem, clean: CleanText): PaperSystem {
  return {
    name: clean(system.name, LENGTH.name),
    model: system.model && clean(system.model, LENGTH.name),
    nameplate: system.nameplate.map(({ label, text }) => ({
      label: clean(label, LENGTH.name),
      text: clean(text, LENGTH.name),
    })),
  };
}

export function cleanFinding(finding: PaperFinding, clean: CleanText): PaperFinding {
  return {
    name: clean(finding.name, LENGTH.title),
    explanation: clean(finding.explanation, LENGTH.sentence),
    standing: finding.standing,
    speaksAgainst: finding.speaksAgainst && clean(finding.speaksAgainst, LENGTH.sentence),
    offeredBecause: finding.offeredBecause && clean(finding.offeredBecause, LENGTH.sentence),
    doubts: cleanSentences(finding.doubts, clean),
    measurements: finding.measurements.map((measurement) => cleanMeasurement(measurement, clean)),
    observations: cleanSentences(finding.observations, clean),
    cautions: cleanSentences(finding.cautions, clean),
  };
}

export function cleanMeasurement(
  measurement: PaperMeasurement,
  clean: CleanText,
): PaperMeasurement {
  return {
    ...measurement,
    label: clean(measurement.label, LENGTH.name),
    unit: clean(measurement.unit, LENGTH.unit),
    limitText: clean(measurement.limitText, LENGTH.line),
  };
}

export function cleanOption(option: PaperOption, clean: CleanText): PaperOption {
  return {
    letter: clean(option.letter, 1),
    title: clean(option.title, LENGTH.title),
    explanation: option.explanation && clean(option.explanation, LENGTH.sentence),
    prices: cleanPrices(option.prices, clean),
    taxes: option.taxes.map((tax) => cleanAmount(tax, clean)),
    totalCents: option.totalCents,
  };
}

function cleanPrices(prices: PaperPrices, clean: CleanText): PaperPrices {
  switch (prices.kind) {
    case 'separated':
      return {
        kind: 'separated',
        groups: prices.groups.map(({ heading, lines }) => ({
          heading: clean(heading, LENGTH.title),
          lines: lines.map((line) => cleanPricedLine(line, clean)),
        })),
        subtotalCents: prices.subtotalCents,
      };
    case 'lump_sum':
      return {
        kind: 'lump_sum',
        groups: prices.groups.map(({ heading, lines }) => ({
          heading: clean(heading, LENGTH.title),
          lines: lines.map((line) => cleanLine(line, clean)),
        })),
        priceCents: prices.priceCents,
      };
  }
}

function cleanPricedLine(line: PaperPricedLine, clean: CleanText): PaperPricedLine {
  return {
    ...cleanLine(line, clean),
    unitPriceCents: line.unitPriceCents,
    amountCents: line.amountCents,
  };
}

function cleanLine(line: PaperLine, clean: CleanText): PaperLine {
  return {
    description: clean(line.description, LENGTH.line),
    detail: line.detail && withTimesSign(clean(line.detail, LENGTH.line)),
    quantityText: line.quantityText && clean(line.quantityText, LENGTH.number),
  };
}

export function cleanAmount(amount: PaperAmount, clean: CleanText): PaperAmount {
  return { label: clean(amount.label, LENGTH.title), amountCents: amount.amountCents };
}

export function cleanSentences(texts: readonly string[], clean: CleanText): string[] {
  return texts.map((text) => clean(text, LENGTH.sentence));
}

export function cleanCustomer({ name, address }: PaperCustomer, clean: CleanText): PaperCustomer {
  return {
    name: clean(name, LENGTH.name),
    address: address && cleanAddress(address, clean),
  };
}

export function cleanSite({ occupant, address }: PaperSite, clean: CleanText): PaperSite {
  return { occupant: clean(occupant, LENGTH.name), address: cleanAddress(address, clean) };
}

export function cleanDecline(
  { amounts, totalCents }: PaperDecline,
  clean: CleanText,
): PaperDecline {
  return { amounts: amounts.map((amount) => cleanAmount(amount, clean)), totalCents };
}

export function cleanChanged(changed: PaperChanged, clean: CleanText): PaperChanged {
  return { ...changed, quoteNumber: clean(changed.quoteNumber, LENGTH.number) };
}

/** Keeps a text's paragraphs apart. */
export function cleanLegalText({ title, text }: PaperLegalText, clean: CleanText): PaperLegalText {
  return {
    title: clean(title, LENGTH.title),
    text: text
      .split(/\n+/)
      .map((paragraph) => clean(paragraph, LENGTH.legalParagraph))
      .filter((paragraph) => paragraph !== '')
      .join('\n'),
  };
}

export function cleanAnswerWay(given: PaperAnswerWay, clean: CleanText): PaperAnswerWay {
  if (given.way === 'link') return given;
  return { ...given, recordedBy: clean(given.recordedBy, LENGTH.name) };
}
