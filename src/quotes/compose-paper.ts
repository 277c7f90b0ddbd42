import { localDayText } from '../company/index.ts';
import type {
  PaperLegalText,
  PaperLine,
  PaperLineGroup,
  PaperOption,
  PaperPricedLine,
  QuotePaper,
} from '../documents/index.ts';
import type { describeFinding } from '../evidence/index.ts';
import type { Company } from '../platform/database/generated/client.ts';
import {
  type Line,
  measuredText,
  minutesText,
  type PricedOption,
  type PricedQuote,
  type PricingInputs,
  percentText,
  taxClassWords,
} from '../pricing/index.ts';
import { taskWords } from '../trade/index.ts';
import { aboutChangeOrder } from './about-change-order.ts';
import { generalCautions, generalTerms } from './general-terms.ts';
import { paperFinding } from './paper-finding.ts';
import { paperSystem } from './paper-system.ts';

/** Everything the paper says but its own hash, which is made of it. */
export type UnhashedPaper = Omit<QuotePaper, 'contentHash'>;

/** Whatever a paper tells of; nothing else is looked up. */
export interface PaperFacts {
  company: Omit<Company, 'id' | 'version'>;
  number: number;
  revision: number;
  issuedAt: Date;
  validUntil: Date;
  inputs: PricingInputs;
  quote: PricedQuote;
  approver: { name: string };
  occupant: { name: string };
  site: Parameters<typeof addressOf>[0];
  equipment: readonly Parameters<typeof paperSystem>[0][];
  /** In the order they were found. */
  findings: readonly DescribedFinding[];
  /** What is said of a new machine beside the repair, where anything is. */
  aboutReplacing?: readonly PaperLegalText[];
  /** The number of the quote that this one changes, if it is a change order. */
  changeOrderOf?: number;
}

export type DescribedFinding = ReturnType<typeof describeFinding>;

/** The text of a quote's paper, from plain data. */
export function composePaper(facts: PaperFacts): UnhashedPaper {
  const { company, inputs, quote, issuedAt, validUntil } = facts;
  const findings = lastOfEach(facts.findings);
  const titles = titlesOf(facts);
  return {
    language: 'en',
    company: {
      name: company.name,
      address: addressOf(company),
      phone: company.phone,
      email: company.email,
      licenseNumber: company.licenseNumber,
      regulatorLine: company.regulator,
    },
    quoteNumber: String(facts.number),
    revision: facts.revision,
    issuedAt: issuedAt.toISOString(),
    issuedText: localDayText(issuedAt, company.timeZone),
    validUntilText: `the end of ${localDayText(new Date(validUntil.getTime() - 1), company.timeZone)}`,
    summary: summaryOf(findings),
    customer: { name: facts.approver.name },
    site: { occupant: facts.occupant.name, address: addressOf(facts.site) },
    systems: facts.equipment.map(paperSystem),
    findings: findings.map((finding) => paperFinding(finding)),
    ...paperPrices(quote, inputs, titles),
    cautions: generalCautions,
    legalTexts: [
      ...(facts.changeOrderOf === undefined ? [] : [aboutChangeOrder(facts.changeOrderOf, 'en')]),
      ...(facts.aboutReplacing ?? []),
      ...generalTerms,
    ],
  };
}

/**
 * What the paper says of prices: every option's lines, tax and total, and what a no costs.
 * @param titles what each finding's work is called, by the finding's id
 */
export function paperPrices(
  quote: PricedQuote,
  inputs: PricingInputs,
  titles: ReadonlyMap<string, string>,
): Pick<UnhashedPaper, 'options' | 'decline'> {
  return {
    options: quote.options.map((option, at) => paperOption(option, at, inputs, titles)),
    decline: {
      amounts: quote.decline.lines
        .filter(isNotFreeTax)
        .map((line) => ({ label: labelOf(line, inputs), amountCents: line.amountCents })),
      totalCents: quote.decline.totalCents,
    },
  };
}

/**
 * What was written twice of one machine is printed once, as it is priced once: as it was found last,
 * with all that was known by then.
 */
function lastOfEach(findings: readonly DescribedFinding[]): DescribedFinding[] {
  const last = new Map<string, DescribedFinding>();
  for (const finding of findings) {
    last.set(`${finding.equipmentId} ${finding.faultCode} ${finding.taskCode}`, finding);
  }
  return [...last.values()];
}

/** What each finding's work is called; where several machines are at hand, with the machine. */
function titlesOf({ findings, equipment }: PaperFacts): Map<string, string> {
  const machines = new Map(equipment.map((machine) => [machine.id, paperSystem(machine).name]));
  return new Map(
    findings.map(({ id, taskCode, equipmentId }) => {
      const machine = machines.size > 1 ? ` (${machines.get(equipmentId)})` : '';
      return [id, `${taskWords[taskCode].name}${machine}`];
    }),
  );
}

function summaryOf(findings: readonly DescribedFinding[]): string {
  const causes = findings.filter(({ remedyClass }) => remedyClass !== 'reset');
  if (findings.length === 0) return 'We looked and quote no work.';
  if (causes.length === 0) {
    return `We found: ${names(findings)}. No labor is charged for a reset.`;
  }
  return `We found: ${names(findings)}. Below is the proof, what mending it costs, and why.`;
}

function names(findings: readonly DescribedFinding[]): string {
  return findings.map(({ faultName }) => faultName.toLowerCase()).join('; ');
}

const LETTERS = ['A', 'B', 'C'];

function paperOption(
  option: PricedOption,
  at: number,
  inputs: PricingInputs,
  titles: ReadonlyMap<string, string>,
): PaperOption {
  const charges = option.lines.filter((line) => line.kind !== 'tax');
  const taxes = option.lines.filter((line) => line.kind === 'tax').filter(isNotFreeTax);
  const subtotalCents = charges.reduce((sum, line) => sum + line.amountCents, 0);
  return {
    letter: LETTERS[at] ?? String(at + 1),
    title: option.title,
    explanation: whySeparated(option, inputs),
    prices:
      option.stated === 'lump_sum'
        ? {
            kind: 'lump_sum',
            groups: groupLines(onceByAgreement(charges, inputs), titles, plainLine),
            priceCents: subtotalCents,
          }
        : { kind: 'separated', groups: groupLines(charges, titles, pricedLine), subtotalCents },
    taxes: taxes.map((line) => ({
      label: labelOf(line, inputs),
      amountCents: line.amountCents,
    })),
    totalCents: option.totalCents,
  };
}

/** Where a job is a lump sum as a rule, the paper says why this one has its prices one by one. */
function whySeparated({ stated, lines }: PricedOption, { tax }: PricingInputs): string | undefined {
  if (stated === tax.mode) return undefined;
  return lines.find(({ kind }) => kind === 'tax')?.why.sentence;
}

/** A tax of nothing is a rule's business; on the paper it would only raise a question. */
function isNotFreeTax(line: Line): boolean {
  return line.kind !== 'tax' || line.amountCents !== 0;
}

function labelOf(line: Line, { tax }: PricingInputs): string {
  if (line.kind !== 'tax') return line.description;
  const taxed = tax.taxableClasses.map((each) => taxClassWords[each]);
  return `${tax.name}, ${percentText(tax.rate)} of ${listed(taxed)}`;
}

/** 'parts', 'parts and labor', 'parts, materials and equipment'. */
function listed(words: readonly string[]): string {
  return [words.slice(0, -1).join(', '), words.at(-1)].filter(Boolean).join(' and ');
}

/** The visit first, then each finding's work, then access, then what is taken off. */
function groupLines<L extends PaperLine>(
  lines: readonly Line[],
  titles: ReadonlyMap<string, string>,
  toPaper: (line: Line) => L,
): PaperLineGroup<L>[] {
  const groups = new Map<string, PaperLineGroup<L> & { lines: L[] }>();
  for (const line of inPaperOrder(lines)) {
    const heading = headingOf(line, titles);
    // By finding, not by heading: the same work on two machines is two groups.
    const key = 'findingId' in line ? line.findingId : heading;
    const group = groups.get(key) ?? { heading, lines: [] };
    group.lines.push(toPaper(line));
    groups.set(key, group);
  }
  return [...groups.values()];
}

function inPaperOrder(lines: readonly Line[]): Line[] {
  return lines.toSorted((a, b) => PLACE[a.kind] - PLACE[b.kind] || a.position - b.position);
}

// Parts, goods and labor of one finding share a place, so that they stay together.
const PLACE: Record<Line['kind'], number> = {
  visit_fee: 0,
  part: 1,
  good: 1,
  labor: 1,
  access: 2,
  discount: 3,
  adjustment: 3,
  credit: 3,
  tax: 4,
};

function headingOf(line: Line, titles: ReadonlyMap<string, string>): string {
  switch (line.kind) {
    case 'visit_fee':
      return 'The visit';
    case 'part':
    case 'good':
    case 'labor':
      return titles.get(line.findingId) ?? 'Work';
    case 'access':
      return 'Getting to it';
    case 'discount':
    case 'adjustment':
    case 'credit':
      return 'Discounts and credits';
    case 'tax':
      return 'Tax';
  }
}

function pricedLine(line: Line): PaperPricedLine {
  return {
    description: line.kind === 'labor' ? `Labor: ${line.description}` : line.description,
    ...(line.kind === 'part' && {
      quantityText: String(line.quantity),
      unitPriceCents: line.unitPriceCents,
    }),
    ...(line.kind === 'good' && { quantityText: measuredText(line.measured, line.unit) }),
    // A part's price says it all beside its quantity, unless the part is free for a reason.
    ...((line.kind !== 'part' || line.amountCents === 0) && { detail: line.why.sentence }),
    amountCents: line.amountCents,
  };
}

/** Without prices of their own the discounts of an agreement say one thing, so they say it once. */
function onceByAgreement(lines: readonly Line[], { agreement }: PricingInputs): Line[] {
  const isDiscount = ({ code }: Line) => code === 'agreement_discount';
  const first = lines.find(isDiscount);
  return lines
    .filter((line) => line === first || !isDiscount(line))
    .map((line) =>
      line === first ? { ...line, description: `Maintenance agreement: ${agreement?.name}` } : line,
    );
}

/** On a lump-sum paper a line shows pieces, weights and minutes; no price, and so no explanation of one. */
function plainLine(line: Line): PaperLine {
  const { description, quantityText } = pricedLine(line);
  const shown = 'minutes' in line ? minutesText(line.minutes) : quantityText;
  return { description, ...(shown !== undefined && { quantityText: shown }) };
}

function addressOf(place: {
  street: string;
  unit?: string | null;
  city: string;
  region: string;
  postalCode: string;
}) {
  return {
    street: place.unit ? `${place.street}, ${place.unit}` : place.street,
    city: place.city,
    region: place.region,
    postalCode: place.postalCode,
  };
}
