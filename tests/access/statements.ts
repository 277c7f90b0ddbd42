import pg from 'pg';
import { vi } from 'vitest';

/**
 * Does something, and keeps which statements went to the database meanwhile. Some go at the same time
 * and so in any order, which says nothing: they are sorted.
 */
export async function withStatements<T>(
  work: () => Promise<T>,
): Promise<{ done: T; statements: string[] }> {
  const statements: string[] = [];
  const { query } = pg.Client.prototype;
  const listening = vi.spyOn(pg.Client.prototype, 'query').mockImplementation(function (
    this: pg.Client,
    ...args: unknown[]
  ) {
    statements.push(textOf(args[0]));
    return Reflect.apply(query, this, args);
  });
  try {
    return { done: await work(), statements: statements.sort() };
  } finally {
    listening.mockRestore();
  }
}

function textOf(asked: unknown): string {
  if (typeof asked === 'string') return asked;
  const isNamed = typeof asked === 'object' && asked !== null && 'text' in asked;
  return isNamed ? String(asked.text) : '';
}
