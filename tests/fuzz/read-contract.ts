import { readFileSync } from 'node:fs';

/** The committed contract, and nothing of the source: what a stranger would test from. */
export function readContract(): { document: Schema; operations: Operation[] } {
  const file = new URL('../contract/openapi.json', import.meta.url);
  const document: Document = JSON.parse(readFileSync(file, 'utf8'));
  const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, told]) => operationOf(path, method, told)),
  );
  const hasEtag = (path: string) =>
    operations.some((each) => each.method === 'GET' && each.path === path && each.isVersioned);
  for (const each of operations) each.tagPath = tagPathOf(each.path, hasEtag);
  return { document, operations };
}

/** As much of JSON Schema as the contract uses. */
export interface Schema {
  readonly [keyword: string]: unknown;
}

/** One thing that the contract says may be asked for. */
export interface Operation {
  readonly operationId: string;
  readonly method: string;
  /** With its parameters in braces. */
  readonly path: string;
  readonly params: readonly Parameter[];
  readonly query: readonly Parameter[];
  readonly needsKey: boolean;
  readonly needsMatch: boolean;
  readonly isVersioned: boolean;
  /** What may be sent, by media type. */
  readonly bodies: readonly (readonly [mediaType: string, schema: Schema])[];
  /** What may be answered: media types by status, and for a refusal what it may be about. */
  readonly responses: ReadonlyMap<number, ToldResponse>;
  /** Where the version is read that has to be matched. */
  tagPath: string | undefined;
}

export interface Parameter {
  readonly name: string;
  readonly required: boolean;
  readonly schema: Schema;
}

export interface ToldResponse {
  readonly mediaTypes: readonly string[];
  readonly slugs: readonly string[];
}

interface Document extends Schema {
  paths: Record<string, Record<string, ToldOperation>>;
}

interface ToldOperation {
  operationId: string;
  parameters?: (Parameter & { in: string })[];
  requestBody?: { content: Record<string, { schema: Schema }> };
  responses: Record<string, { description: string; content?: Record<string, unknown> }>;
}

function operationOf(path: string, method: string, told: ToldOperation): Operation {
  const parameters = told.parameters ?? [];
  const needs = (header: string) =>
    parameters.some((each) => each.in === 'header' && each.name === header && each.required);
  return {
    operationId: told.operationId,
    method: method.toUpperCase(),
    path,
    params: parameters.filter((each) => each.in === 'path'),
    query: parameters.filter((each) => each.in === 'query'),
    needsKey: needs('idempotency-key'),
    needsMatch: needs('if-match'),
    isVersioned: '304' in told.responses,
    bodies: Object.entries(told.requestBody?.content ?? {}).map(
      ([mediaType, { schema }]) => [mediaType, schema] as const,
    ),
    responses: new Map(
      Object.entries(told.responses).map(([status, { description, content }]) => [
        Number(status),
        { mediaTypes: Object.keys(content ?? {}), slugs: slugsIn(description) },
      ]),
    ),
    tagPath: undefined,
  };
}

/** "Problem: not-found, not-allowed-now" names what a refusal of a status may be about. */
function slugsIn(description: string): string[] {
  const listed = /^Problem: (.*)$/.exec(description)?.[1];
  return listed?.split(', ') ?? [];
}

/** The nearest thing above an act that is read with a version. */
function tagPathOf(path: string, hasEtag: (path: string) => boolean): string | undefined {
  for (let at = path; at !== ''; at = at.slice(0, at.lastIndexOf('/'))) {
    if (hasEtag(at)) return at;
  }
  return undefined;
}
