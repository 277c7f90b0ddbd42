import { z } from 'zod';
import { type ProblemSlug, problemCatalog } from './problem-catalog.ts';

/** One wrong field: where (RFC 6901 pointer), what kind of mistake, and in words. */
export const fieldErrorSchema = z.strictObject({
  in: z.enum(['body', 'query', 'path', 'header']),
  pointer: z.string(),
  code: z.string(),
  message: z.string(),
});
export type FieldError = z.infer<typeof fieldErrorSchema>;

/** The body of every answer that is not a success: RFC 9457, application/problem+json. */
export const problemSchema = z
  .looseObject({
    type: z.string(),
    title: z.string(),
    status: z.int().min(400).max(599),
    detail: z.string(),
    instance: z.string(),
    code: z.string(),
    requestId: z.string(),
    errors: z.array(fieldErrorSchema).optional(),
  })
  .meta({ id: 'Problem', description: 'What went wrong (RFC 9457).' });
export type ProblemBody = z.infer<typeof problemSchema>;

export interface ProblemExtensions {
  errors?: FieldError[];
  [name: string]: unknown;
}

/**
 * A refusal meant for the client. `detail` is public: it says what was wrong with this request in
 * one or two plain sentences, and never what only we should know.
 */
export class ProblemError extends Error {
  readonly slug: ProblemSlug;
  readonly extensions: ProblemExtensions;

  constructor(slug: ProblemSlug, detail: string, extensions: ProblemExtensions = {}) {
    super(detail);
    this.name = 'ProblemError';
    this.slug = slug;
    this.extensions = extensions;
  }

  get status(): number {
    return problemCatalog[this.slug].status;
  }
}

/** The refusal for a field whose value is of the right form and wrong all the same. */
export function wrongField(pointer: string, code: string, message: string): ProblemError {
  return new ProblemError('validation-failed', 'Some fields are not as expected.', {
    errors: [{ in: 'body', pointer, code, message }],
  });
}

/** The refusal for what an address asks for, where its form alone does not say that it cannot be. */
export function wrongQuery(pointer: string, code: string, message: string): ProblemError {
  return new ProblemError('validation-failed', 'Some fields are not as expected.', {
    errors: [{ in: 'query', pointer, code, message }],
  });
}

/** The refusal for a field that names something unknown. */
export function unknownReference(pointer: string, message: string): ProblemError {
  return new ProblemError('unknown-reference', message, {
    errors: [{ in: 'body', pointer, code: 'unknown_reference', message }],
  });
}

/** The refusal for an address that leads nowhere; the same for "missing" and "not yours". */
export function notFound(what: string): ProblemError {
  return new ProblemError('not-found', `There is no such ${what}.`);
}

/** The problem document of a refusal. */
export function problemBody(
  problem: ProblemError,
  request: { id: string; instance: string; typeBase: string },
): ProblemBody {
  const { status, title } = problemCatalog[problem.slug];
  return {
    type: `${request.typeBase}/problems/${problem.slug}`,
    title,
    status,
    detail: problem.message,
    instance: request.instance,
    code: problem.slug,
    requestId: request.id,
    ...problem.extensions,
  };
}
