import { expect } from 'vitest';
import { repriceQuotes } from '../../src/quotes/index.ts';
import type { TestDatabase } from './test-database.ts';

/**
 * Computes every price ever stored again from its inputs, drafts included, under the rules it was
 * made by, and compares everything that is stored of it: each number, word and reason.
 * @returns how many options were compared
 */
export async function assertReprices({ owner }: Pick<TestDatabase, 'owner'>): Promise<number> {
  const differences: string[] = [];
  const { options } = await repriceQuotes(owner, { withDrafts: true }, (difference) =>
    differences.push(difference),
  );
  expect(differences).toEqual([]);
  return options;
}
