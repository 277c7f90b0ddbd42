import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import { ProblemError } from './problem.ts';

/** The fields of a form as they were typed. */
export type FormFields = Readonly<Record<string, string>>;

export const FORM_TYPE = 'application/x-www-form-urlencoded';

/**
 * Makes a scope take what a page's own form sends, and no other body at all. A form of ours names
 * each field once, so one that comes twice is no form of ours.
 */
export function takeForms(scope: FastifyInstance, { bytesMax }: { bytesMax: number }): void {
  scope.removeAllContentTypeParsers();
  scope.addContentTypeParser(
    FORM_TYPE,
    { parseAs: 'string', bodyLimit: bytesMax },
    async (_request: FastifyRequest, body: string): Promise<FormFields> => readForm(body),
  );
}

function readForm(body: string): FormFields {
  const fields = [...new URLSearchParams(body)];
  const names = new Set(fields.map(([name]) => name));
  if (names.size < fields.length) {
    throw new ProblemError('malformed-request', 'A field of the form comes twice.');
  }
  // Own properties only, also for a field that is called __proto__.
  return Object.fromEntries(fields);
}

/** A form that was read: its values, or which of its fields cannot be right. */
export type CheckedForm<Values> =
  | { outcome: 'read'; values: Values }
  | { outcome: 'mistaken'; fields: ReadonlySet<string> };

/**
 * Checks what was typed. An optional field left blank is one that was not sent: a page sends every
 * field it shows.
 */
export function checkForm<S extends z.ZodType>(
  schema: S,
  typed: unknown,
): CheckedForm<z.output<S>> {
  const sent = Object.entries(typed ?? {}).filter(([, value]) => String(value).trim() !== '');
  const parsed = schema.safeParse(Object.fromEntries(sent));
  if (parsed.success) return { outcome: 'read', values: parsed.data };
  const fields = parsed.error.issues.flatMap((issue) =>
    issue.code === 'unrecognized_keys' ? issue.keys : [String(issue.path[0] ?? '')],
  );
  return { outcome: 'mistaken', fields: new Set(fields) };
}
