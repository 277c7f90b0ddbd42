import type {
  PaperAddress,
  PaperAmount,
  PaperCompany,
  PaperFinding,
  PaperLine,
  PaperMeasurement,
  PaperOption,
  PaperPricedLine,
  PaperPrices,
  PaperSystem,
} from './paper-parts.ts';
import type { QuotePaper } from './quote-paper.ts';
import { withTimesSign } from './times-sign.ts';

/** Makes one text fit to print and no longer than the given number of characters. */
export type CleanText = (raw: string, lengthMax: number) => string;

/**
 * The same paper with every text fit to print. The bounds are wider than anything a person would
 * write and narrow enough that no single cell can fill a page.
 */
export function cleanQuotePaper(paper: QuotePaper, clean: CleanText): QuotePaper {
  const sentences = (texts: readonly string[]) => texts.map((text) => clean(text, LENGTH.sentence));
  return {
    language: paper.language,
    company: cleanCompany(paper.company, clean),
    quoteNumber: clean(paper.quoteNumber, LENGTH.number),
    revision: paper.revision,
    issuedAt: paper.issuedAt,
    issuedText: clean(paper.issuedText, LENGTH.name),
    validUntilText: clean(paper.validUntilText, LENGTH.name),
    contentHash: clean(paper.contentHash, LENGTH.hash),
    summary: clean(paper.summary, LENGTH.sentence),
    customer: {
      name: clean(paper.customer.name, LENGTH.name),
      address: paper.customer.address && cleanAddress(paper.customer.address, clean),
    },
    site: {
      occupant: clean(paper.site.occupant, LENGTH.name),
      address: cleanAddress(paper.site.address, clean),
    },
    systems: paper.systems.map((system) => cleanSystem(system, clean)),
    findings: paper.findings.map((finding) => cleanFinding(finding, clean)),
    options: paper.options.map((option) => cleanOption(option, clean)),
    decline: {
      amounts: paper.decline.amounts.map((amount) => cleanAmount(amount, clean)),
      totalCents: paper.decline.totalCents,
    },
    ...(paper.changes !== undefined && {
      changes: {
        ...paper.changes,
        quoteNumber: clean(paper.changes.quoteNumber, LENGTH.number),
      },
    }),
    cautions: sentences(paper.cautions),
    legalTexts: paper.legalTexts.map(({ title, text }) => ({
      title: clean(title, LENGTH.title),
      text: text
        .split(/\n+/)
        .map((paragraph) => clean(paragraph, LENGTH.legalParagraph))
        .filter((paragraph) => paragraph !== '')
        .join('\n'),
    })),
  };
}

const LENGTH = {
  number: 40,
  unit: 20,
  hash: 128,
  name: 120,
  title: 160,
  line: 240,
  sentence: 1200,
  legalParagraph: 20_000,
} as const;

function cleanCompany(company: PaperCompany, clean: CleanText): PaperCompany {
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

function cleanSystem(system: PaperSystem, clean: CleanText): PaperSystem {
  return {
    name: clean(system.name, LENGTH.name),
    model: system.model && clean(system.model, LENGTH.name),
    nameplate: system.nameplate.map(({ label, text }) => ({
      label: clean(label, LENGTH.name),
      text: clean(text, LENGTH.name),
    })),
  };
}

function cleanFinding(finding: PaperFinding, clean: CleanText): PaperFinding {
  const sentences = (texts: readonly string[]) => texts.map((text) => clean(text, LENGTH.sentence));
  return {
    name: clean(finding.name, LENGTH.title),
    explanation: clean(finding.explanation, LENGTH.sentence),
    standing: finding.standing,
    speaksAgainst: finding.speaksAgainst && clean(finding.speaksAgainst, LENGTH.sentence),
    offeredBecause: finding.offeredBecause && clean(finding.offeredBecause, LENGTH.sentence),
    doubts: sentences(finding.doubts),
    measurements: finding.measurements.map((measurement) => cleanMeasurement(measurement, clean)),
    observations: sentences(finding.observations),
    cautions: sentences(finding.cautions),
  };
}

function cleanMeasurement(measurement: PaperMeasurement, clean: CleanText): PaperMeasurement {
  return {
    ...measurement,
    label: clean(measurement.label, LENGTH.name),
    unit: clean(measurement.unit, LENGTH.unit),
    limitText: clean(measurement.limitText, LENGTH.line),
  };
}

function cleanOption(option: PaperOption, clean: CleanText): PaperOption {
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

function cleanAmount(amount: PaperAmount, clean: CleanText): PaperAmount {
  return { label: clean(amount.label, LENGTH.title), amountCents: amount.amountCents };
}
