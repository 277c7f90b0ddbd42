import { sqlOf } from '../platform/database/database.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { billFacts } from './bill-facts.ts';
import { type BillMistake, billMistakes, differenceCents, UNKNOWN } from './bill-mistakes.ts';
import type { NewBill } from './contract.ts';
import { type BillBody, readBills } from './read-bills.ts';
import { recordBills } from './record-bills.ts';

/**
 * Enters one supplier's bill and counts up what it brought.
 * @throws ProblemError 400 when it does not add up or a line cannot be, 409 when it was entered
 *   before, 422 for an unknown place or part
 */
export async function enterBill(act: ActContext, bill: NewBill): Promise<BillBody> {
  const place = await act.tx.stockPlace.findUnique({ where: { id: bill.placeId } });
  if (place === null) throw unknownReference('/placeId', 'There is no such place.');
  const codes = bill.lines.flatMap(({ partCode }) => partCode ?? []);
  const facts = await billFacts(act, codes);
  const mistakes = billMistakes(bill, facts);
  if (mistakes.length > 0) throw refusalOf(bill, mistakes);
  const ids = await recordBills(act, [bill], facts.parts);
  const [entered] = await readBills(
    { sql: sqlOf(act.tx), actor: act.actor },
    ids,
    facts.priceBookId,
  );
  if (entered === undefined) throw new Error('a bill that was recorded is not there');
  return entered;
}

function refusalOf(bill: NewBill, mistakes: readonly BillMistake[]): ProblemError {
  const isUnknownOnly = mistakes.every(({ code }) => code === UNKNOWN);
  const difference = differenceCents(bill);
  return new ProblemError(
    isUnknownOnly ? 'unknown-reference' : 'validation-failed',
    isUnknownOnly
      ? 'Some lines name parts that the price book does not have.'
      : 'Some fields are not as expected.',
    {
      errors: mistakes.map(({ line, field, code, message }) => ({
        in: 'body',
        pointer: line === undefined ? `/${field}` : `/lines/${line}/${field}`,
        code,
        message,
      })),
      ...(difference !== 0 && { differenceCents: difference }),
    },
  );
}
