import type { FastifySchema } from 'fastify';
import { z } from 'zod';
import { problemSchema } from './problem.ts';
import { type ProblemSlug, problemCatalog } from './problem-catalog.ts';
import {
  type ActRoute,
  type ComputeRoute,
  type EntranceRoute,
  nothing,
  type Route,
} from './route.ts';
import { sizeText } from './size-text.ts';

/**
 * The contract of a route: the schemas its input is checked with and the text its documentation
 * is made of, in the form Fastify and its OpenAPI plugin read.
 */
export function describeRoute(route: Route): FastifySchema {
  return {
    operationId: route.operationId,
    summary: route.summary,
    description: descriptionOf(route),
    tags: [route.tag],
    security: securityOf(route),
    headers: headersOf(route),
    ...(route.params !== nothing && { params: route.params }),
    querystring: route.query,
    ...(hasBody(route) && { body: bodyOf(route.body) }),
    ...(route.kind === 'act' && route.consumes && { consumes: route.consumes.mediaTypes }),
    response: { ...successOf(route), ...problemsOf(route) },
  } as FastifySchema;
}

// One of these is enough, each with the role it asks for (OpenAPI 3.1, Security Requirement Object).
function securityOf({ access }: Route): { token: string[] }[] {
  return access === 'public' ? [] : access.map((role) => ({ token: [role] }));
}

function hasBody(route: Route): route is ActRoute | ComputeRoute | EntranceRoute {
  return route.kind === 'act' || route.kind === 'compute' || route.kind === 'entrance';
}

// A request without a body is a request with nothing in its body.
function bodyOf(body: z.ZodType): z.ZodType {
  return body === nothing ? z.union([nothing, z.null()]).optional() : body;
}

function descriptionOf(route: Route): string {
  const who = route.access === 'public' ? 'Everybody.' : `Roles: ${route.access.join(', ')}.`;
  return [route.description, bodySize(route), who].filter(Boolean).join('\n\n');
}

function bodySize(route: Route): string | undefined {
  if (route.kind !== 'act' || route.bodyBytesMax === undefined) return undefined;
  return `The body may be up to ${sizeText(route.bodyBytesMax)}.`;
}

// For the document only: the mount checks these headers and has a problem for each.
function headersOf(route: Route): z.ZodType {
  return z.looseObject({
    ...(isKeyed(route) && {
      'idempotency-key': z.string().meta({
        description: 'One value for one act, so that repeating it is safe.',
      }),
    }),
    ...(route.kind === 'act' &&
      route.ifMatch && {
        'if-match': z.string().meta({ description: 'The ETag last read.' }),
      }),
    ...(route.kind === 'stream' && {
      'last-event-id': z.string().optional().meta({
        description: 'The `id` of the last event that was got; it goes on after that one.',
      }),
    }),
    ...(isVersioned(route) && {
      'if-none-match': z.string().optional().meta({ description: 'Answers 304 if unchanged.' }),
    }),
  });
}

function isKeyed(route: Route): boolean {
  return route.kind === 'act' && route.method === 'POST';
}

/** Whether a GET gives an ETag, and so answers 304 to who has the present one already. */
function isVersioned(route: Route): boolean {
  return route.kind === 'bytes' || (route.kind === 'read' && route.versioned);
}

function successOf(route: Route): Record<string, unknown> {
  const unchanged = isVersioned(route) && {
    304: z.undefined().meta({ description: 'Unchanged since the ETag in If-None-Match.' }),
  };
  if (route.kind === 'bytes') {
    const file = z.string().meta({ format: 'binary' });
    const content = Object.fromEntries(route.mediaTypes.map((type) => [type, { schema: file }]));
    return { 200: { description: 'The file.', content }, ...unchanged };
  }
  if (route.kind === 'stream') {
    const events = z.string().meta({ description: 'Events (WHATWG HTML living standard, 9.2).' });
    return { 200: { description: 'Events.', content: { [EVENT_STREAM]: { schema: events } } } };
  }
  const status = route.kind === 'act' ? route.status : 200;
  const description = status === 201 ? 'Made.' : 'Done.';
  return {
    [status]: { description, content: { 'application/json': { schema: route.response } } },
    ...unchanged,
  };
}

export const EVENT_STREAM = 'text/event-stream';

/** Every problem slug a route may answer with, its own first. */
export function problemsOfRoute(route: Route): ProblemSlug[] {
  const slugs: ProblemSlug[] = [
    ...(route.problems ?? []),
    ...(route.access === 'public' ? [] : (['unauthenticated', 'forbidden'] as const)),
    ...(waitsForCompany(route) ? (['not-allowed-now'] as const) : []),
    // A browser that asks for another site is sent away before anything is looked at.
    ...(route.kind === 'entrance' ? (['forbidden'] as const) : []),
    'validation-failed',
    ...(hasBody(route) ? BODY_PROBLEMS : []),
    ...(isKeyed(route) ? KEY_PROBLEMS : []),
    ...(route.kind === 'act' && route.ifMatch ? MATCH_PROBLEMS : []),
    ...(route.params === nothing ? [] : (['malformed-request', 'not-found'] as const)),
    'internal-error',
    'unavailable',
  ];
  return [...new Set(slugs)];
}

/** Whether there has to be a company before it is of any use. */
export function waitsForCompany(route: Route): boolean {
  return route.access !== 'public' && route.kind !== 'entrance' && route.isBeforeSetUp !== true;
}

const BODY_PROBLEMS = ['malformed-request', 'payload-too-large', 'unsupported-media-type'] as const;
const KEY_PROBLEMS = [
  'idempotency-key-missing',
  'idempotency-key-reused',
  'request-in-progress',
] as const;
const MATCH_PROBLEMS = ['precondition-required', 'version-changed'] as const;

function problemsOf(route: Route): Record<string, unknown> {
  const byStatus = new Map<number, Set<ProblemSlug>>();
  for (const slug of problemsOfRoute(route)) {
    const { status } = problemCatalog[slug];
    byStatus.set(status, (byStatus.get(status) ?? new Set()).add(slug));
  }
  return Object.fromEntries(
    [...byStatus].map(([status, slugs]) => [
      status,
      {
        description: `Problem: ${[...slugs].sort().join(', ')}`,
        content: { 'application/problem+json': { schema: problemSchema } },
      },
    ]),
  );
}
