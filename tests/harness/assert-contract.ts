import type { Response } from 'supertest';
import { expect } from 'vitest';
import { routes } from '../../src/app.ts';
import { problemsOfRoute } from '../../src/platform/http/describe-route.ts';
import { problemSchema } from '../../src/platform/http/problem.ts';
import { problemCatalog } from '../../src/platform/http/problem-catalog.ts';
import type { Route } from '../../src/platform/http/route.ts';

/** What of an answer the contract speaks about; a supertest response has all of it. */
type Answer = Pick<Response, 'status' | 'headers' | 'body' | 'text'> & {
  request: { url: string };
};

/**
 * Holds an answer against what its route says in the contract: status, body, ETag, and for a
 * refusal its form and whether the route lists it.
 */
export function assertContract<A extends Answer>(answer: A, method: string): A {
  const path = new URL(answer.request.url, 'http://localhost').pathname;
  const route = routeOf(method, path);
  if (answer.status >= 400) assertProblem(answer, route);
  else if (route !== undefined) assertSuccess(answer, route);
  return answer;
}

/** The route an address belongs to. */
export function routeOf(method: string, path: string): Route | undefined {
  return routes.find((each) => each.method === method && pattern(each.path).test(path));
}

function assertProblem(answer: Answer, route: Route | undefined): void {
  const problem = problemSchema.parse(answer.body);
  expect(answer.headers['content-type']).toBe('application/problem+json; charset=utf-8');
  expect(problem.status).toBe(answer.status);
  const kind = Object.entries(problemCatalog).find(([slug]) => slug === problem.code)?.[1];
  expect({ status: kind?.status, title: kind?.title }).toEqual({
    status: problem.status,
    title: problem.title,
  });
  expect(problem.type).toMatch(new RegExp(`/problems/${problem.code}$`));
  expect(problem.requestId).not.toBe('');
  if (route === undefined) return;
  expect(problemsOfRoute(route), `${route.operationId}: ${answer.text}`).toContain(problem.code);
}

function assertSuccess(answer: Answer, route: Route): void {
  const { operationId } = route;
  if (route.kind !== 'act') expectVersion(answer, route);
  if (answer.status === 304) {
    expect(answer.text, operationId).toBe('');
    return;
  }
  expect(answer.status, operationId).toBe(route.kind === 'act' ? route.status : 200);
  if (route.kind === 'bytes') {
    expect(route.mediaTypes, operationId).toContain(answer.headers['content-type']);
    return;
  }
  if (route.kind === 'stream') {
    expect(answer.headers['content-type'], operationId).toBe('text/event-stream; charset=utf-8');
    return;
  }
  expect(answer.headers['content-type'], operationId).toBe('application/json; charset=utf-8');
  const parsed = route.response.safeParse(answer.body);
  expect(parsed.error?.issues ?? [], `${operationId} answered ${answer.text}`).toEqual([]);
}

function expectVersion(answer: Answer, route: Exclude<Route, { kind: 'act' }>): void {
  const hasEtag = answer.headers['etag'] !== undefined;
  expect(hasEtag, `${route.operationId} has an ETag`).toBe(
    route.kind === 'bytes' || (route.kind === 'read' && route.versioned),
  );
}

function pattern(path: string): RegExp {
  return new RegExp(`^${path.replace(/:\w+/g, '[^/]+')}$`);
}
