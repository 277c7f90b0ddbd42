import {
  formatCents,
  formatDecimal,
  type InvoicePaperDocument,
  type Paper,
  type PaperAmount,
  type PaperBeforeAfter,
  type PaperDecline,
  type PaperFinding,
  type PaperLegalText,
  type PaperMeasurement,
  type PaperOption,
  type PaperOutcome,
  type PaperSystem,
} from '../../src/documents/index.ts';

type Said = string | undefined;

/** Everything that a paper's data holds for its reader, in the order it is to be read. */
export function saidBy({ kind, paper }: Paper): Said[] {
  const { company } = paper;
  const end = [...(paper.cautions ?? []), paper.contentHash];
  const letterhead = [
    company.name,
    company.address.street,
    company.phone,
    company.email,
    company.licenseNumber,
    company.regulatorLine,
  ];
  switch (kind) {
    case 'quote':
      return [
        ...letterhead,
        paper.quoteNumber,
        String(paper.revision),
        paper.issuedText,
        paper.validUntilText,
        paper.summary,
        ...paper.options.map(({ totalCents }) => formatCents(totalCents)),
        formatCents(paper.decline.totalCents),
        ...personAt(paper),
        ...paper.systems.flatMap(ofSystem),
        ...paper.findings.flatMap(ofFinding),
        ...paper.options.flatMap((option) => [option.title, ...ofPrices(option)]),
        // A no to a change order costs nothing, and that is said in words.
        ...(paper.changes === undefined ? ofDecline(paper.decline, paper.language) : []),
        ...paper.cautions,
        ...paper.legalTexts.flatMap(ofLegalText),
        ...paper.options.flatMap(({ title, totalCents }) => [title, formatCents(totalCents)]),
        paper.contentHash,
      ];
    case 'acceptance':
      return [
        ...letterhead,
        paper.quoteNumber,
        paper.acceptedText,
        paper.option.title,
        formatCents(paper.option.totalCents),
        ...personAt(paper),
        paper.option.title,
        ...ofPrices(paper.option),
        paper.acceptedByName,
        paper.acceptedText,
        paper.given.way === 'link' ? undefined : paper.given.recordedBy,
        paper.beyondLimitAgreedBy,
        paper.consentText,
        paper.cancelUntilText,
        ...paper.legalTexts.flatMap(ofLegalText),
        ...end,
      ];
    case 'decline':
      return [
        ...letterhead,
        paper.quoteNumber,
        paper.declinedText,
        formatCents(paper.changes?.agreedCents ?? paper.decline.totalCents),
        paper.dangerWarned,
        paper.conditionLeft,
        ...personAt(paper),
        ...paper.systems.flatMap(ofSystem),
        ...paper.findings.flatMap(ofFinding),
        ...paper.offered.flatMap(({ title, totalCents }) => [title, formatCents(totalCents)]),
        paper.declinedByName,
        paper.declinedText,
        paper.given.way === 'link' ? undefined : paper.given.recordedBy,
        paper.reason,
        ...(paper.decline.amounts.length > 1 ? ofDecline(paper.decline, paper.language) : []),
        company.phone,
        ...end,
      ];
    case 'invoice':
      return [
        ...letterhead,
        paper.invoiceNumber,
        paper.issuedText,
        paper.ticketNumber,
        ...paper.visitDays,
        formatCents(paper.totalCents),
        paper.payer.name,
        paper.site.address.street,
        paper.site.occupant,
        ...ofDocuments(paper),
        company.phone,
        ...end,
      ];
    case 'credit_memo':
      return [
        ...letterhead,
        paper.memoNumber,
        paper.invoiceNumber,
        paper.issuedText,
        formatCents(paper.totalCents),
        paper.payer.name,
        paper.reason,
        ...ofDocuments(paper),
        company.phone,
        ...end,
      ];
    case 'work_record':
      return [
        ...letterhead,
        paper.ticketNumber,
        paper.issuedText,
        paper.complaint,
        paper.dangerWarned,
        ...personAt(paper),
        ...paper.systems.flatMap(ofSystem),
        ...paper.visits.flatMap(({ dayText, technician, certificate }) => [
          dayText,
          technician,
          certificate,
        ]),
        ...paper.works.flatMap((work) => [
          work.name,
          work.system,
          work.explanation,
          ...ofOutcome(work.outcome),
          ...work.readings.flatMap(ofBeforeAfter),
          ...work.observations,
          ...(work.doubts ?? []),
          ...work.parts.flatMap(({ name, quantityText, serial, oldSerial }) => [
            name,
            quantityText,
            serial,
            oldSerial,
          ]),
          ...work.partsLeftOver.flatMap(({ name, quantityText, reason }) => [
            name,
            quantityText,
            reason,
          ]),
        ]),
        ...paper.refrigerantMoves.flatMap((move) => [
          move.refrigerant,
          move.system,
          // The row's first cell is read whole before its weight.
          move.dayText,
          move.cylinder,
          move.certificate,
          move.weightText,
        ]),
        paper.conditionLeft,
        ...(paper.measuredAfter ?? []),
        paper.noReadingsWhy,
        ...end,
      ];
  }
}

function personAt({
  customer,
  site,
}: {
  customer: { name: string; address?: { street: string } | undefined };
  site: { occupant: string; address: { street: string } };
}): Said[] {
  return [customer.name, customer.address?.street, site.address.street, site.occupant];
}

function ofSystem({ name, model, nameplate }: PaperSystem): Said[] {
  return [name, model, ...nameplate.flatMap(({ label, text }) => [label, text])];
}

function ofFinding(finding: PaperFinding): Said[] {
  return [
    finding.name,
    finding.explanation,
    ...finding.measurements.flatMap((measurement) => [
      measurement.label,
      measurement.limitText,
      ...figure(measurement),
    ]),
    ...finding.observations,
    ...finding.doubts,
    ...finding.cautions,
  ];
}

function figure({ value, decimals, unit }: PaperMeasurement): Said[] {
  return [`${formatDecimal(value, decimals)} ${unit}`];
}

function ofBeforeAfter({ before, after }: PaperBeforeAfter): Said[] {
  const { label, limitText } = before ?? after ?? { label: undefined, limitText: undefined };
  return [label, limitText, ...(before ? figure(before) : []), ...(after ? figure(after) : [])];
}

function ofPrices({ explanation, prices, taxes, totalCents }: PaperOption): Said[] {
  const lines: Said[] =
    prices.kind === 'separated'
      ? prices.groups.flatMap(({ heading, lines }) => [
          heading,
          ...lines.flatMap(({ description, detail, amountCents }) => [
            description,
            detail,
            formatCents(amountCents),
          ]),
        ])
      : prices.groups.flatMap(({ heading, lines }) => [
          heading,
          ...lines.flatMap(({ description, detail }) => [description, detail]),
        ]);
  return [explanation, ...lines, ...taxes.flatMap(ofAmount), formatCents(totalCents)];
}

function ofAmount({ label, amountCents }: PaperAmount): Said[] {
  return [label, formatCents(amountCents)];
}

/** A no that costs nothing is told in words. */
const FREE = { en: 'You pay nothing.', es: 'Usted no paga nada.' } as const;

function ofDecline({ amounts, totalCents }: PaperDecline, language: 'en' | 'es'): Said[] {
  if (amounts.length < 2) return [totalCents === 0 ? FREE[language] : formatCents(totalCents)];
  return [...amounts.map(({ label }) => label), formatCents(totalCents)];
}

function ofLegalText({ title, text }: PaperLegalText): Said[] {
  return [title, ...text.split('\n')];
}

/** Several are told once more together, with their sum. */
function ofDocuments({ documents, totalCents }: Billed): Said[] {
  const together = documents.flatMap(({ title, totalCents }) => [title, formatCents(totalCents)]);
  return [
    ...documents.flatMap(ofDocument),
    ...(documents.length > 1 ? [...together, formatCents(totalCents)] : []),
  ];
}

interface Billed {
  documents: readonly InvoicePaperDocument[];
  totalCents: number;
}

function ofDocument({ title, prices, taxes, totalCents }: InvoicePaperDocument): Said[] {
  return [
    title,
    ...(prices.kind === 'separated'
      ? prices.lines.flatMap(({ description, amountCents }) => [
          description,
          formatCents(amountCents),
        ])
      : prices.lines.map(({ description }) => description)),
    ...taxes.flatMap(ofAmount),
    formatCents(totalCents),
  ];
}

function ofOutcome(outcome: PaperOutcome): Said[] {
  switch (outcome.outcome) {
    case 'done':
      return [outcome.task, outcome.laborWarrantyUntilText];
    case 'not_done':
      return [outcome.task, outcome.reason];
    case 'not_agreed':
      return [];
  }
}
