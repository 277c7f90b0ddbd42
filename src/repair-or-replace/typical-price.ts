import type { MendedMachine, Replacement } from './facts.ts';

/**
 * What a new machine of this kind and size typically costs by the owner's book, in cents; undefined
 * where the book does not say. Of an unknown size only a price for any size is known.
 * @param replacements of each kind from small to large, the row for any size last
 */
export function typicalPriceCents(
  { kind, tons }: Pick<MendedMachine, 'kind' | 'tons'>,
  replacements: readonly Replacement[],
): number | undefined {
  const rows = replacements.filter((row) => row.kind === kind);
  const row =
    tons === undefined
      ? rows.find((each) => rows.length === 1 && each.tonsUpTo === null)
      : rows.find((each) => each.tonsUpTo === null || tons <= each.tonsUpTo);
  return row?.typicalPriceCents;
}
