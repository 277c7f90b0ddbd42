import type { FastifySchemaCompiler } from 'fastify';
import type { z } from 'zod';
import { MISSING, plainWords } from '../plain-words.ts';
import { type FieldError, ProblemError } from './problem.ts';

/**
 * Checks one part of a request with its schema and names every mistake by its place. Headers pass:
 * the mount has problems for them that say more than "validation failed".
 */
export const checkPart: FastifySchemaCompiler<z.ZodType> = ({ schema, httpPart }) => {
  const place = PLACES[httpPart ?? 'body'];
  if (place === undefined) return (data) => ({ value: data });
  return (data) => {
    const parsed = schema.safeParse(data, { error: plainWords });
    if (parsed.success) return { value: parsed.data };
    const errors = parsed.error.issues.flatMap((issue) => fieldErrors(issue, place));
    return {
      error: new ProblemError('validation-failed', 'Some fields are not as expected.', { errors }),
    };
  };
};

const PLACES: Record<string, FieldError['in']> = {
  body: 'body',
  querystring: 'query',
  params: 'path',
};

function fieldErrors(issue: z.core.$ZodIssue, place: FieldError['in']): FieldError[] {
  const error = { in: place, code: issue.code, message: issue.message };
  // Unknown fields come as one issue of the object around them; each is a mistake of its own.
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({
      ...error,
      pointer: pointerTo([...issue.path, key]),
      message: 'is not a field of this request',
    }));
  }
  const meant = issue.code === 'invalid_union' ? formMeant(issue) : undefined;
  if (meant !== undefined) {
    return meant.flatMap((inner) =>
      fieldErrors({ ...inner, path: [...issue.path, ...inner.path] }, place),
    );
  }
  const message = issue.code === 'invalid_union' ? formsText(issue) : undefined;
  return [{ ...error, pointer: pointerTo(issue.path), message: message ?? issue.message }];
}

/** What each of several forms needs first; undefined where one lacks nothing. */
function formsText({ errors }: z.core.$ZodIssueInvalidUnion): string | undefined {
  const needs = errors.map((form) =>
    form
      .filter(
        ({ code, path, message }) =>
          code === 'invalid_type' && path.length === 1 && message === MISSING,
      )
      .map(({ path }) => String(path[0]))
      .join(' and '),
  );
  return needs.length < 2 || needs.includes('') ? undefined : `needs either ${needs.join(', or ')}`;
}

/**
 * The mistakes of the one form whose type the value has, of several the one that knows most of its
 * fields; undefined when that is not one.
 */
function formMeant({ errors }: z.core.$ZodIssueInvalidUnion): z.core.$ZodIssue[] | undefined {
  const ofItsType = errors.filter((form) =>
    form.every(({ code, path }) => path.length > 0 || !OTHER_TYPE.has(code)),
  );
  const unknownMin = Math.min(...ofItsType.map(unknownFields));
  const closest = ofItsType.filter((form) => unknownFields(form) === unknownMin);
  return closest.length === 1 ? closest[0] : undefined;
}

function unknownFields(form: readonly z.core.$ZodIssue[]): number {
  return form.reduce(
    (sum, issue) => sum + (issue.code === 'unrecognized_keys' ? issue.keys.length : 0),
    0,
  );
}

const OTHER_TYPE = new Set(['invalid_type', 'invalid_value']);

/** A JSON Pointer (RFC 6901): empty for the whole document, `~` and `/` in names escaped. */
function pointerTo(path: readonly PropertyKey[]): string {
  return path
    .map((name) => `/${String(name).replaceAll('~', '~0').replaceAll('/', '~1')}`)
    .join('');
}
