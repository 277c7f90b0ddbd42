import type { z } from 'zod';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { type OptionInputs, pricingInputsSchema } from '../pricing/index.ts';
import type { partialYesSchema } from './contract.ts';
import { latestOf, lockQuote } from './lock-quote.ts';
import { makeRevision, requireRevisable } from './make-revision.ts';
import type { OptionToPrice } from './price-options.ts';

type PartialYes = z.output<typeof partialYesSchema>;

/**
 * The customer wants some of an option and not all of it: makes the next revision as a draft, with
 * the chosen findings of that option alone. It is a price of its own, because what is shared (the
 * way in, the discount on second tasks, the credit of the fee) is shared anew.
 * @throws ProblemError 422 unless some findings of an option of the quote are chosen, and not all;
 *   409 for a quote that was answered or withdrawn
 */
export async function partialYes(
  act: ActContext,
  quoteId: string,
  { optionId, findingIds }: PartialYes,
): Promise<void> {
  const revisions = await lockQuote(act, quoteId);
  requireRevisable(latestOf(revisions));
  const living = revisions.filter(({ state }) => state === 'draft' || state === 'issued');
  const option = await act.tx.quoteOption.findFirst({
    where: {
      id: optionId,
      revision: { quoteId, number: { in: living.map(({ revision }) => revision) } },
    },
    include: { revision: true, lines: true },
  });
  if (option === null) {
    throw unknownReference('/optionId', 'The quote as it is now has no such option.');
  }
  const whole = pricingInputsSchema.parse(option.revision.inputs).options[option.position - 1];
  if (whole === undefined) throw new Error('a stored option has its inputs');
  const part = partOf(whole, option.lines, findingIds);
  await makeRevision(act, quoteId, revisions, [part]);
}

/** The option with the chosen findings alone, and with what was adjusted of their lines. */
function partOf(
  whole: OptionInputs,
  lines: readonly { key: string; findingIds: string[] }[],
  chosen: readonly string[],
): OptionToPrice {
  const offered = whole.work.flatMap(({ findingId, alsoFindingIds = [] }) => [
    findingId,
    ...alsoFindingIds,
  ]);
  for (const [at, id] of chosen.entries()) {
    if (!offered.includes(id)) {
      throw unknownReference(`/findingIds/${at}`, 'That option does not mend this finding.');
    }
  }
  if (offered.every((id) => chosen.includes(id))) throw wholeOption();
  const left = offered.filter((id) => !chosen.includes(id));
  const stillThere = new Set(
    lines
      .filter(({ key, findingIds }) => {
        // A line of one finding's work is named by it; access stays while any of its work does.
        if (left.some((id) => key.includes(id))) return false;
        return findingIds.length === 0 || findingIds.some((id) => chosen.includes(id));
      })
      .map(({ key }) => key),
  );
  return {
    title: whole.title,
    findingIds: [...chosen],
    adjustments: whole.adjustments.filter(({ aimedAt }) => stillThere.has(aimedAt)),
  };
}

function wholeOption(): ProblemError {
  const message = 'These are all the findings of that option. Accept it as it is.';
  return new ProblemError('price-refused', message, {
    errors: [{ in: 'body', pointer: '/findingIds', code: 'whole_option', message }],
  });
}
