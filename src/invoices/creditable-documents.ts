import {
  type BilledLine,
  type Credit,
  feeDocument,
  keyOfUndone,
  statedOf,
  type TaxedDocument,
} from '../billing/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { addCents, type Cents, cents, pricingInputsSchema } from '../pricing/index.ts';
import { storeOf } from './store.ts';
import type { StoredInvoice } from './whole-invoice.ts';
import { linesOf } from './work-to-bill.ts';

type StoredDocument = StoredInvoice['documents'][number];

/** A billed document as far as a credit looks at it. */
export interface CreditableDocument extends TaxedDocument {
  readonly position: number;
  /** The accepted quote it bills; none for the fee of a trip. */
  readonly quoteId: string | null;
  /** What a no to it would have come to, the fee of the trip. */
  readonly declineTotalCents: number;
  /** What was taken off its lines before: as not done on the invoice itself, or by earlier memos. */
  readonly credited: readonly Credit[];
  /** What is left of its tax after those: a tax that was too much by itself may be given back alone. */
  readonly taxLeftCents: Cents;
}

/** The documents of an issued invoice that can be credited, by position. */
export async function creditableDocuments(
  tx: Tx,
  stored: StoredInvoice,
): Promise<Map<number, CreditableDocument>> {
  const found = new Map<number, CreditableDocument>();
  for (const document of stored.documents) {
    if (document.kind === 'work_not_done') continue;
    const charged =
      document.optionId === null
        ? await feeCharged(tx, document)
        : await workCharged(tx, document.optionId, document);
    const { position, quoteId } = document;
    const credited = creditedBefore(stored, document);
    const taxLeftCents = taxLeftOf(stored, document);
    found.set(position, { position, quoteId, ...charged, credited, taxLeftCents });
  }
  return found;
}

type Charged = Omit<CreditableDocument, 'position' | 'quoteId' | 'credited' | 'taxLeftCents'>;

/** The very lines that were billed, which the database holds equal to those that were accepted. */
async function workCharged(
  tx: Tx,
  optionId: string,
  { rulesetVersion }: StoredDocument,
): Promise<Charged> {
  const lines = (await linesOf(storeOf({ tx }), [{ optionId }])).get(optionId) ?? [];
  const { position, revision } = await tx.quoteOption.findUniqueOrThrow({
    where: { id: optionId },
    include: { revision: { select: { inputs: true } } },
  });
  const inputs = pricingInputsSchema.parse(revision.inputs);
  const optionAt = position - 1;
  const stated = statedOf({ inputs, rulesetVersion, optionAt });
  const work = inputs.options[optionAt]?.work ?? [];
  const declineTotalCents = feeDocument(inputs, rulesetVersion)?.totalCents ?? 0;
  return { lines, tax: inputs.tax, stated, work, declineTotalCents };
}

async function feeCharged(
  tx: Tx,
  { invoiceId, position, lines, totalCents }: StoredDocument,
): Promise<Charged> {
  const { inputs } = await tx.invoiceDocument.findUniqueOrThrow({
    where: { invoiceId_position: { invoiceId, position } },
    select: { inputs: true },
  });
  const { tax } = pricingInputsSchema.parse(inputs);
  const declineTotalCents = totalCents;
  return { lines: lines.map(withoutFindings), tax, stated: tax.mode, work: [], declineTotalCents };
}

function withoutFindings(line: StoredDocument['lines'][number]): BilledLine {
  const { key, kind, priceClass, description, aimedAt } = line;
  const amountCents = cents(line.amountCents);
  return { key, kind, priceClass, description, aimedAt, findingIds: [], amountCents };
}

function creditedBefore(stored: StoredInvoice, document: StoredDocument): Credit[] {
  const amounts = new Map<string, number>();
  const add = (key: string, amountCents: number) =>
    amounts.set(key, (amounts.get(key) ?? 0) + amountCents);
  for (const { key, kind, aimedAt, amountCents } of undoneLines(stored, document)) {
    // A credit of the fee that was cut leaves more of the fee.
    if (kind !== 'tax') add(aimedAt ?? keyOfUndone(key), -amountCents);
  }
  for (const line of stored.creditMemos.flatMap((memo) => memo.lines)) {
    const isOfIt = line.document === document.position && line.priceClass !== 'tax';
    if (isOfIt) add(line.key, line.amountCents);
  }
  return [...amounts].map(([key, amountCents]) => ({ key, amountCents: cents(amountCents) }));
}

function taxLeftOf(stored: StoredInvoice, document: StoredDocument): Cents {
  const given = stored.creditMemos
    .flatMap((memo) => memo.lines)
    .filter((line) => line.document === document.position && line.priceClass === 'tax');
  const undone = undoneLines(stored, document).filter(({ kind }) => kind === 'tax');
  return addCents([
    cents(document.taxCents),
    ...undone.map(({ amountCents }) => cents(amountCents)),
    ...given.map(({ amountCents }) => cents(-amountCents)),
  ]);
}

function undoneLines({ documents }: StoredInvoice, { quoteId }: StoredDocument) {
  if (quoteId === null) return [];
  return documents.find(({ undoneQuoteId }) => undoneQuoteId === quoteId)?.lines ?? [];
}
