import { describe, expect, it } from 'vitest';
import { routes } from '../../src/app.ts';
import { problemsOfRoute } from '../../src/platform/http/describe-route.ts';
import { type ProblemSlug, problemSlugs } from '../../src/platform/http/problem-catalog.ts';
import { reachableProblems } from './reachable-problems.ts';

const { byOperation, thrown } = reachableProblems();

/** What a handler comes by in its source and still never answers with, and why. */
const neverAnswered: Record<string, readonly ProblemSlug[]> = {
  // The visit is named in the body, so "not found" is caught and becomes a wrong field.
  draftQuote: ['not-found'],
  // They read back a book that they have just stored or found.
  publishPriceBook: ['not-found'],
  getPriceBookInForce: ['not-found'],
  // An unknown ticket has been refused as a wrong field before it is locked.
  bookVisit: ['not-found'],
  // Only a yes comes too late.
  declineQuote: ['quote-expired'],
};

describe('the catalog of problems', () => {
  it('holds no problem that is never answered, and answers none that it does not hold', () => {
    expect([...thrown].sort()).toEqual([...problemSlugs].sort());
  });

  it('stays small enough to be read: forty at most', () => {
    expect(problemSlugs.length).toBeLessThanOrEqual(40);
  });
});

describe('a route documents every problem it can answer with', () => {
  it('and the source of every route was found', () => {
    expect([...byOperation.keys()].sort()).toEqual(
      routes.map(({ operationId }) => operationId).sort(),
    );
  });

  it.each(routes.map((route) => [route.operationId, route] as const))(
    '%s',
    (operationId, route) => {
      const except: readonly string[] = neverAnswered[operationId] ?? [];
      const reached = [...(byOperation.get(operationId) ?? [])].filter(
        (slug) => !except.includes(slug),
      );
      const documented: string[] = problemsOfRoute(route);
      expect(reached.filter((slug) => !documented.includes(slug))).toEqual([]);
    },
  );

  it.each(routes.map((route) => [route.operationId, route] as const))(
    '%s documents no problem of its own that it cannot answer with',
    (operationId, route) => {
      const reached = byOperation.get(operationId);
      expect((route.problems ?? []).filter((slug) => !reached?.has(slug))).toEqual([]);
    },
  );

  it('and the exceptions to this are still met in the source', () => {
    for (const [operationId, slugs] of Object.entries(neverAnswered)) {
      const reached = byOperation.get(operationId);
      expect(
        slugs.filter((slug) => !reached?.has(slug)),
        operationId,
      ).toEqual([]);
    }
  });
});
