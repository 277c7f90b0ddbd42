import { localDay } from '../company/index.ts';
import type { CancelTerms } from '../consumer-law/index.ts';
import { cancelTermsOf, legalTextsOf } from '../consumer-rules/index.ts';
import { describeFinding, observationsAt } from '../evidence/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Company, QuoteRevision } from '../platform/database/generated/client.ts';
import type { PricingInputs } from '../pricing/index.ts';
import { evidenceSchema, type PartCategory, partCategorySchema } from '../trade/index.ts';
import { aboutReplacing } from './about-replacing.ts';
import { changedQuoteOf } from './changed-quote-of.ts';
import { type BilingualPaper, composeBothPapers, type FoundForPaper } from './compose-paper.ts';
import { findingsOf } from './findings-of.ts';
import { mustPriceAgain } from './price-again.ts';
import { repairOrReplaceOptions } from './repair-or-replace-of.ts';

interface Issue {
  issuedAt: Date;
  validUntil: Date;
  company: Company;
}

/** What is frozen at issue: the papers, and the rights to cancel that they tell of. */
export type FrozenPaper = BilingualPaper & { cancelRights: readonly CancelTerms[] };

/**
 * The paper of a revision in both languages, complete and frozen: names, addresses, findings with
 * their readings, prices, rights. Later changes to any of these do not touch it.
 */
export async function quotePaperOf(
  tx: Tx,
  revision: QuoteRevision,
  issue: Issue,
): Promise<FrozenPaper> {
  const { inputs, quote } = mustPriceAgain(revision.inputs, revision.rulesetVersion);
  const today = localDay(issue.issuedAt, issue.company.timeZone);
  const options = await repairOrReplaceOptions(tx, revision, today);
  const facts = await loadFacts(tx, revision.quoteId, inputs);
  const partKinds = await partKindsOf(tx, revision.priceBookVersionId, inputs);
  const { jurisdiction } = facts.site;
  const totalCents = Math.max(...quote.options.map((option) => option.totalCents));
  const sale = { jurisdiction, day: today, totalCents };
  const papers = composeBothPapers({
    ...issue,
    ...facts,
    revision: revision.number,
    inputs,
    quote,
    partKinds,
    aboutReplacing: { en: aboutReplacing(options, 'en'), es: aboutReplacing(options, 'es') },
    byLaw: await legalTextsOf(tx, sale, issue.company),
  });
  return { ...papers, cancelRights: await cancelTermsOf(tx, sale) };
}

async function loadFacts(tx: Tx, quoteId: string, inputs: PricingInputs) {
  const quote = await tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    include: {
      ticket: { include: { site: { include: { occupant: true, approver: true } } } },
    },
  });
  const findings = await describedFindings(tx, quote.visitId, inputs);
  const equipmentIds = [...new Set(findings.map((finding) => finding.equipmentId))];
  const equipment = await tx.equipment.findMany({
    where: { id: { in: equipmentIds } },
    include: { system: true },
    orderBy: { id: 'asc' },
  });
  const { site } = quote.ticket;
  const changes = await changedQuoteOf(tx, quote);
  return {
    number: quote.number,
    approver: site.approver,
    occupant: site.occupant,
    site,
    equipment,
    findings,
    ...(changes !== undefined && { changes }),
  };
}

async function partKindsOf(
  tx: Tx,
  versionId: string,
  { options }: PricingInputs,
): Promise<Map<string, PartCategory>> {
  const work = options.flatMap((option) => option.work);
  const codes = work.flatMap(({ parts, goods = [] }) =>
    [...parts, ...goods].map(({ code }) => code),
  );
  const parts = await tx.priceBookPart.findMany({
    where: { versionId, code: { in: [...new Set(codes)] } },
    select: { code: true, category: true },
  });
  return new Map(parts.map(({ code, category }) => [code, partCategorySchema.parse(category)]));
}

async function describedFindings(
  tx: Tx,
  visitId: string,
  inputs: PricingInputs,
): Promise<FoundForPaper[]> {
  const rows = await findingsOf(tx, inputs);
  const observations = await observationsAt(tx, visitId);
  return rows.map((row) => ({
    ...describeFinding(row, observations),
    readings: evidenceSchema.parse(row.evidence).readings,
  }));
}
