import { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { PriceBookPart } from '../platform/database/generated/client.ts';
import {
  cents,
  goodsTaxClassSchema,
  goodsUnitSchema,
  type OtherBook,
  type OtherPart,
} from '../pricing/index.ts';
import { toHead } from './book-in-force.ts';
import { warrantyClassSchema } from './contract.ts';

/** A published book as stored work is priced under it, with what else is known of its parts. */
export interface KnownBook {
  readonly book: OtherBook;
  readonly partFacts: ReadonlyMap<string, KnownPart>;
}

export interface KnownPart {
  readonly category: string;
  readonly warrantyClass: z.infer<typeof warrantyClassSchema>;
}

/** Reads a whole book. It never changes, so whoever needs it again keeps it. */
export async function readKnownBook(
  prisma: Pick<Tx, 'priceBookVersion'>,
  id: string,
): Promise<KnownBook> {
  const { tasks, parts, ...row } = await prisma.priceBookVersion.findUniqueOrThrow({
    where: { id },
    include: { tasks: true, parts: true },
  });
  const { rates, tiers, policy, periods, agreements } = toHead(row);
  const book: OtherBook = {
    ...{ rates, tiers, policy },
    periods: new Map(periods.map((period) => [period.code, period])),
    tasks: new Map(tasks.map((task) => [task.code, task])),
    parts: new Map(parts.map((part) => [part.code, otherPart(part)])),
    agreements: new Map(
      agreements.map(({ code, name, discounts }) => [code, { code, name, discounts }]),
    ),
  };
  const facts = z.object({ category: z.string(), warrantyClass: warrantyClassSchema });
  return { book, partFacts: new Map(parts.map((part) => [part.code, facts.parse(part)])) };
}

function otherPart(part: PriceBookPart): OtherPart {
  const { name, costCents, taxClass, warrantyClass, unit, packQuantity } = part;
  return {
    name,
    costCents: cents(costCents),
    taxClass: goodsTaxClassSchema.parse(taxClass),
    warranted: warrantyClass !== 'none',
    ...(unit !== null &&
      packQuantity !== null && {
        measured: { unit: goodsUnitSchema.parse(unit), packQuantity: packQuantity.toFixed() },
      }),
  };
}
