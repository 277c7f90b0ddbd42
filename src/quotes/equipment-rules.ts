import type { WholeFinding } from '../evidence/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { QuoteRevision } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { type PricingInputs, pricingInputsSchema } from '../pricing/index.ts';
import { equipmentStatement, type NewUnit } from '../repair-or-replace/index.ts';
import { installsEquipment, partSchema, taskCodeSchema } from '../trade/index.ts';

/** What the owner confirms, as it is stored. */
export const CONFIRMED_KIND = 'refrigerant_rules';

type Offered = Pick<WholeFinding, 'equipmentId' | 'faultCode' | 'taskCode'>;

/**
 * Refuses an option with a new machine unless the first option mends the same fault of the same
 * machine without one: a customer who never saw the repair had no choice.
 * @param options the findings of each option, in the order they are offered
 * @throws ProblemError 422 naming the option
 */
export function refuseReplacingAlone(options: readonly (readonly Offered[])[]): void {
  const [first = []] = options;
  for (const [at, option] of options.entries()) {
    const isAlone = option
      .filter(isNewMachine)
      .some((replaced) => at === 0 || !first.some((offered) => mends(offered, replaced)));
    if (isAlone) throw repairFirst(`/options/${at}/findingIds`);
  }
}

function mends(offered: Offered, replaced: Offered): boolean {
  return (
    !isNewMachine(offered) &&
    offered.equipmentId === replaced.equipmentId &&
    offered.faultCode === replaced.faultCode
  );
}

function repairFirst(pointer: string): ProblemError {
  const message =
    'Repair first: let the first option mend the same fault without a new machine, and offer the new one beside it.';
  return new ProblemError('price-refused', message, {
    errors: [{ in: 'body', pointer, code: 'repair_first', message }],
  });
}

/**
 * Keeps new equipment from being offered before the owner has confirmed, for this very revision,
 * the refrigerant rules in force. Those rules change, and a wrong unit is dear to everybody.
 * @throws ProblemError 409 with the statement to confirm
 */
export async function requireConfirmation(
  tx: Pick<Tx, 'priceBookPart' | 'quoteConfirmation'>,
  revision: QuoteRevision,
): Promise<void> {
  const statement = await statementToConfirm(tx, revision);
  if (statement === undefined) return;
  const { quoteId, number } = revision;
  const confirmed = await tx.quoteConfirmation.findUnique({
    where: { quoteId_revision_kind: { quoteId, revision: number, kind: CONFIRMED_KIND } },
  });
  if (confirmed !== null) return;
  throw new ProblemError(
    'owner-confirmation-needed',
    'This revision offers a new machine. The owner confirms the refrigerant rules in force first.',
    { revision: number, statement },
  );
}

/** The words the owner confirms for a revision; undefined when it installs no new machine. */
export async function statementToConfirm(
  tx: Pick<Tx, 'priceBookPart'>,
  revision: QuoteRevision,
): Promise<string | undefined> {
  const inputs = pricingInputsSchema.parse(revision.inputs);
  if (!inputs.options.some(({ work }) => work.some(isNewMachine))) return undefined;
  return equipmentStatement(await newUnitsOf(tx, revision));
}

/** The new machines that a revision offers, by its own price book, in the order of their codes. */
export async function newUnitsOf(
  tx: Pick<Tx, 'priceBookPart'>,
  { priceBookVersionId, inputs }: QuoteRevision,
): Promise<NewUnit[]> {
  const rows = await tx.priceBookPart.findMany({
    where: { versionId: priceBookVersionId, code: { in: installedParts(inputs) } },
    orderBy: { code: 'asc' },
  });
  return rows.flatMap(({ name, category, specs }) => {
    const part = partSchema.parse({ category, specs });
    return part.category === 'outdoor_unit' ? [{ name, ...part.specs }] : [];
  });
}

function installedParts(stored: QuoteRevision['inputs']): string[] {
  const { options }: PricingInputs = pricingInputsSchema.parse(stored);
  const work = options.flatMap((option) => option.work.filter(isNewMachine));
  return work.flatMap(({ parts }) => parts.map(({ code }) => code));
}

/** Whether a new machine stands there after the work. */
export function isNewMachine({ taskCode }: { taskCode: string }): boolean {
  return installsEquipment(taskCodeSchema.parse(taskCode));
}
