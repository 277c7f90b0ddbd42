import { localDayText } from '../company/index.ts';
import {
  countsAsFound,
  type PaperChanged,
  type PaperLanguage,
  type PaperLegalText,
  type QuotePaper,
  usualCautions,
} from '../documents/index.ts';
import type { describeFinding } from '../evidence/index.ts';
import type { Company } from '../platform/database/generated/client.ts';
import type { PricedQuote, PricingInputs } from '../pricing/index.ts';
import type { PartCategory, Reading } from '../trade/index.ts';
import { aboutChangeOrder } from './about-change-order.ts';
import { findingOnPaper } from './finding-on-paper.ts';
import { generalTerms } from './general-terms.ts';
import { paperStanding } from './paper-finding.ts';
import { paperPrices } from './paper-prices.ts';
import { paperSystem } from './paper-system.ts';
import { type PaperWords, paperWords } from './paper-words.ts';

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
  findings: readonly FoundForPaper[];
  /** What is said of a new machine beside the repair, where anything is. */
  aboutReplacing?: Record<PaperLanguage, readonly PaperLegalText[]>;
  /** What the jurisdiction asks for on a quote of this size. */
  byLaw?: Record<PaperLanguage, readonly PaperLegalText[]>;
  /** The kind of each part of the price book that is sold, by its code. */
  partKinds?: ReadonlyMap<string, PartCategory>;
  /** The accepted quote that this one changes, if it is a change order. */
  changes?: { number: number; agreedCents: number; hasGrown: boolean };
}

export type DescribedFinding = ReturnType<typeof describeFinding>;

/** A finding with what it rests on: its sentences are English, its readings speak any language. */
export type FoundForPaper = DescribedFinding & { readings?: readonly Reading[] };

/** A paper in English with the same in Spanish: issued as one, and under one hash. */
export type BilingualPaper = UnhashedPaper & { inSpanish: UnhashedPaper };

/** The text of a quote's paper in both languages, from plain data. */
export function composeBothPapers(facts: PaperFacts): BilingualPaper {
  return { ...composePaper(facts, 'en'), inSpanish: composePaper(facts, 'es') };
}

/** The text of a quote's paper in one language, from plain data. */
export function composePaper(facts: PaperFacts, language: PaperLanguage = 'en'): UnhashedPaper {
  const { company, inputs, quote, issuedAt, validUntil } = facts;
  const words = paperWords[language];
  const findings = lastOfEach(facts.findings);
  const titles = titlesOf(facts, language);
  const lastMoment = new Date(validUntil.getTime() - 1);
  return {
    language,
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
    issuedText: localDayText(issuedAt, company.timeZone, language),
    validUntilText: words.endOf(localDayText(lastMoment, company.timeZone, language)),
    summary: summaryOf(findings, words),
    customer: { name: facts.approver.name },
    site: { occupant: facts.occupant.name, address: addressOf(facts.site) },
    systems: facts.equipment.map((machine) => paperSystem(machine, language)),
    findings: findings.map((finding) => findingOnPaper[language](finding, findings)),
    ...paperPrices(quote, inputs, { work: titles, partKinds: facts.partKinds }, language),
    ...(facts.changes !== undefined && { changes: changedOnPaper(facts.changes) }),
    cautions: usualCautions[language],
    legalTexts: [
      ...(facts.changes === undefined ? [] : [aboutChangeOrder(facts.changes.number, language)]),
      ...(facts.aboutReplacing?.[language] ?? []),
      ...(facts.byLaw?.[language] ?? []),
      ...generalTerms[language],
    ],
  };
}

function changedOnPaper({ number, ...agreed }: NonNullable<PaperFacts['changes']>): PaperChanged {
  return { quoteNumber: String(number), ...agreed };
}

/**
 * What was written twice of one machine is printed once, as it is priced once: as it was found last,
 * with all that was known by then.
 */
function lastOfEach(findings: readonly FoundForPaper[]): FoundForPaper[] {
  const last = new Map<string, FoundForPaper>();
  for (const finding of findings) {
    last.set(`${finding.equipmentId} ${finding.faultCode} ${finding.taskCode}`, finding);
  }
  return [...last.values()];
}

/** What each finding's work is called; where several machines are at hand, with the machine. */
function titlesOf(
  { findings, equipment }: PaperFacts,
  language: PaperLanguage,
): Map<string, string> {
  const machines = new Map(
    equipment.map((machine) => [machine.id, paperSystem(machine, language).name]),
  );
  return new Map(
    findings.map(({ id, taskCode, equipmentId }) => {
      const machine = machines.size > 1 ? ` (${machines.get(equipmentId)})` : '';
      return [id, `${paperWords[language].taskName(taskCode)}${machine}`];
    }),
  );
}

/** What was found in one paragraph: only what the evidence carries is called found. */
function summaryOf(
  findings: readonly DescribedFinding[],
  { faultName, summary }: PaperWords,
): string {
  if (findings.length === 0) return summary.nothing;
  const causes = findings.filter(({ remedyClass }) => remedyClass !== 'reset');
  const namesOf = (some: readonly DescribedFinding[]) =>
    some.map((finding) => faultName(finding).toLowerCase()).join('; ');
  const found = findings.filter((finding) => countsAsFound(paperStanding(finding)));
  const others = findings.filter((finding) => !found.includes(finding));
  const isProof = causes.every(({ standing }) => standing === 'proven');
  return [
    ...(found.length > 0 ? [summary.found(namesOf(found))] : []),
    ...(others.length > 0 ? [summary.notProven(namesOf(others))] : []),
    causes.length === 0 ? summary.resets : summary.causes[isProof ? 'proof' : 'evidence'],
  ].join(' ');
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
