import { keyOfUndone, type UsedGoods, undoneDocument } from '../../billing/index.ts';
import {
  addCents,
  type Cents,
  cents,
  dollarsText,
  goodKey,
  goodsUnitWords,
  partKey,
} from '../../pricing/index.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { JobDocument, JobWork, StoredPrice } from '../jobs/job-facts.ts';
import type { JobPrices } from '../jobs/prices-of.ts';
import { cannotJudge, clear, flaggedBy } from './answers.ts';
import type { AuditRule, Correction } from './audit-rule.ts';

/**
 * What was billed of parts and goods above what is recorded as put in is owed: priced as the bill
 * itself would have been for what went in, by the stored book. More put in than billed is nobody's
 * debt, but one of the two records is wrong.
 */
export const partsNotUsed: AuditRule<'parts_not_used'> = {
  code: 'parts_not_used',
  statement: 'No more of a part or of goods is billed than was put in.',
  severity: 'owed',
  source: 'An invoice is for what was done',
  judge: ({ documents, work }, prices) => {
    const sold = documents.filter(({ kind }) => kind !== 'visit_fee');
    if (sold.length === 0) return clear;
    if (work === undefined) return cannotJudge('work');
    const priced = sold.flatMap((document) => {
      const { quoteId } = document;
      const price = storedAlone(document, prices);
      return price === undefined || quoteId === null ? [] : [{ document, price, quoteId }];
    });
    if (priced.length < sold.length) return cannotJudge('price_inputs');
    const goods = priced.map((each) => ({ ...each, goods: soldIn(each, work) }));
    const over = goods.map(({ document, price, goods }) => overIn(document, price, goods));
    const sentences = [
      ...over.flatMap((each) => each.sentences),
      ...goods.flatMap((each) => each.goods.flatMap(sentenceOfMore)),
      ...neverBilled(
        work,
        goods.flatMap((each) => each.goods),
      ),
    ];
    return flaggedBy(
      sentences,
      over.flatMap((each) => each.corrections),
    );
  },
};

/**
 * What a document was priced from, without what people adjusted: that was agreed to whatever went in,
 * and what is beyond its band is another rule's. Undefined where it has no price.
 */
function storedAlone(document: JobDocument, prices: JobPrices): StoredPrice | undefined {
  const { price } = document;
  const priced = prices.stored(document);
  if (price === undefined || priced === undefined) return undefined;
  const options = priced.inputs.options.map((option) => ({ ...option, adjustments: [] }));
  return { ...price, inputs: { ...priced.inputs, options }, optionAt: 0 };
}

/** Goods of a document, in thousandths so that decimals add up exactly. */
interface SoldGoods {
  readonly key: string;
  readonly name: string;
  readonly unitText: string;
  readonly soldThousandths: number;
  readonly usedThousandths: number;
  readonly uses: JobWork['uses'];
}

function soldIn(
  { price, quoteId }: { readonly price: StoredPrice; readonly quoteId: string },
  { uses }: JobWork,
): SoldGoods[] {
  const items = price.inputs.options[price.optionAt]?.work ?? [];
  return items.flatMap((item) => {
    const findingIds = [item.findingId, ...(item.alsoFindingIds ?? [])];
    const sold = [
      ...item.parts.map((part) => ({ ...part, key: partKey(item, part), unitText: '' })),
      ...(item.goods ?? []).map((good) => ({
        ...good,
        key: goodKey(item, good),
        unitText: ` ${goodsUnitWords[good.unit]}`,
      })),
    ];
    return sold.map(({ key, code, name, unitText, quantity }): SoldGoods => {
      const own = uses.filter(
        (use) =>
          use.quoteId === quoteId && use.partCode === code && findingIds.includes(use.findingId),
      );
      return {
        key,
        name,
        unitText,
        soldThousandths: thousandths(quantity),
        usedThousandths: sumOf(own),
        uses: own,
      };
    });
  });
}

function overIn(document: JobDocument, price: StoredPrice, goods: readonly SoldGoods[]) {
  const unused = goods.filter((each) => each.usedThousandths < each.soldThousandths);
  if (unused.length === 0) return { sentences: [], corrections: [] };
  const { invoiceId, position } = document;
  const offCents = offFor(document, price, unused);
  const over = chargesOf(document).flatMap(({ line: { key }, leftCents }) => {
    const own = unused.find((each) => each.key === key);
    const before = chargesOf({ ...document, credited: [] }).find(({ line }) => line.key === key);
    const toCents = addCents([before?.leftCents ?? cents(0), cents(-(offCents.get(key) ?? 0))]);
    if (own === undefined || toCents >= leftCents) return [];
    const { name, unitText, soldThousandths, usedThousandths } = own;
    const billed = `${text(soldThousandths)}${unitText} billed`;
    const used = `${text(usedThousandths)}${unitText} recorded as put in`;
    const correction: Correction = { invoiceId, position, key, toCents };
    return {
      sentence: `${name}: ${billed}, ${used}. The charge of ${dollarsText(leftCents)} would have come to ${dollarsText(toCents)}.`,
      correction,
    };
  });
  return {
    sentences: over.map(({ sentence }) => sentence),
    corrections: over.map(({ correction }) => correction),
  };
}

/** What the bill itself takes off each charge when only so much went in. */
function offFor(
  { lines }: JobDocument,
  price: StoredPrice,
  unused: readonly SoldGoods[],
): ReadonlyMap<string, Cents> {
  const used = unused.map((each): UsedGoods => ({ key: each.key, quantity: quantityOf(each) }));
  const undone = undoneDocument({ ...price, lines }, { undoneFindingIds: [], used });
  const off = undone.outcome === 'some' ? undone.document.lines : [];
  return new Map(off.map(({ key, amountCents }) => [keyOfUndone(key), cents(-amountCents)]));
}

/** Of pieces whole ones: one that was begun went in. */
function quantityOf({ unitText, usedThousandths }: SoldGoods): string {
  const isPiece = unitText === '';
  return text(isPiece ? Math.ceil(usedThousandths / 1_000) * 1_000 : usedThousandths);
}

function sentenceOfMore({ name, unitText, soldThousandths, usedThousandths }: SoldGoods): string[] {
  if (usedThousandths <= soldThousandths) return [];
  const [used, sold] = [text(usedThousandths), text(soldThousandths)];
  return [
    `${name}: ${used}${unitText} recorded as put in, ${sold}${unitText} billed. Please look at which is right.`,
  ];
}

function neverBilled({ uses }: JobWork, goods: readonly SoldGoods[]): string[] {
  const billed = new Set(goods.flatMap((each) => each.uses));
  const left = uses.filter((use) => !billed.has(use));
  return [...new Set(left.map(({ partCode }) => partCode))].map((code) => {
    const used = sumOf(left.filter(({ partCode }) => partCode === code));
    return `Part ${code}: ${text(used)} recorded as put in, none billed. Please look at which is right.`;
  });
}

function sumOf(uses: JobWork['uses']): number {
  return uses.reduce((sum, { quantity }) => sum + thousandths(quantity), 0);
}

/** Quantities have at most three digits after the point. */
function thousandths(quantity: number | string): number {
  return Math.round(Number(quantity) * 1_000);
}

function text(inThousandths: number): string {
  return String(inThousandths / 1_000);
}
