import { ProblemError } from '../platform/http/problem.ts';
import type { Trouble, Words } from './words.ts';

/** Why a form was not taken, and which of its fields it is about. */
export interface FormTrouble {
  status: number;
  field?: string;
  text: (words: Words) => string;
}

/** A trouble that a page finds by itself. */
export function troubleIn(field: string, kind: Trouble): FormTrouble {
  return { status: 422, field, text: ({ troubles }) => troubles[kind] };
}

/**
 * A refusal of the interface as a page says it.
 * @throws whatever is none that a form can be shown again for
 */
export function troubleOf(
  error: unknown,
  { code }: { code?: string | undefined } = {},
): FormTrouble {
  if (!(error instanceof ProblemError)) throw error;
  const { status, extensions } = error;
  const said = (kind: Trouble, field?: string): FormTrouble => ({
    ...{ status, text: ({ troubles }: Words) => troubles[kind] },
    ...(field !== undefined && { field }),
  });
  switch (error.slug) {
    case 'unauthenticated': {
      if (extensions['codeNeeded'] !== true) return said('wrong', 'email');
      return said(code === undefined ? 'code_needed' : 'wrong_code', 'code');
    }
    case 'too-many-tries': {
      const minutes = Math.ceil(Number(extensions['retryAfterSeconds']) / 60);
      return { status, text: ({ tooOften }) => tooOften(minutes) };
    }
    case 'validation-failed':
      return troubleOfField(error);
    case 'already-exists':
      return said('taken', 'email');
    case 'not-allowed-now':
      return said('not_now');
    case 'unavailable':
      return said('unavailable', 'code');
    default:
      throw error;
  }
}

function troubleOfField(error: ProblemError): FormTrouble {
  const [mistake] = error.extensions.errors ?? [];
  const isCodeMissing = error.extensions['codeNeeded'] === true && mistake?.code === 'missing';
  const kind = isCodeMissing ? 'code_needed' : FIELD_TROUBLES[mistake?.code ?? ''];
  if (mistake === undefined || kind === undefined) throw error;
  return { ...troubleIn(mistake.pointer.slice(1), kind), status: error.status };
}

/** The codes by which the interface tells what is wrong about a field. */
const FIELD_TROUBLES: Readonly<Record<string, Trouble>> = {
  wrong_code: 'wrong_code',
  wrong_password: 'wrong_password',
  missing: 'missing',
  too_short: 'too_short',
  too_long: 'too_long',
  not_text: 'not_text',
  too_common: 'too_common',
  of_the_person: 'of_the_person',
  of_the_company: 'of_the_company',
};
