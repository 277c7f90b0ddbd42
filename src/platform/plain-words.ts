import type { z } from 'zod';

/** What is said of a field that was not sent. */
export const MISSING = 'is missing';

/**
 * Says in plain words what is wrong with a value, in a form that follows the field's name: "phone
 * is missing". Where a schema has its own words, those stand.
 */
export const plainWords: z.core.$ZodErrorMap = (issue) => {
  if (issue.input === undefined && issue.code !== 'custom') return MISSING;
  switch (issue.code) {
    case 'invalid_type':
      return `must be ${TYPES[issue.expected] ?? 'of another type'}`;
    case 'invalid_format':
      return FORMATS[issue.format] ?? 'is not of the expected form';
    case 'invalid_value':
      return `must be ${oneOf(issue.values.map(String))}`;
    case 'too_small':
      return tooSmall(issue);
    case 'too_big':
      return tooBig(issue);
    case 'not_multiple_of':
      return `must be a multiple of ${issue.divisor}`;
    case 'unrecognized_keys':
      return `has unknown fields: ${issue.keys.join(', ')}`;
    case 'invalid_union':
      return 'is of none of the expected forms';
    default:
      return undefined;
  }
};

const TYPES: Record<string, string> = {
  string: 'a string',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  object: 'an object',
  record: 'an object',
  array: 'a list',
  tuple: 'a list',
  null: 'null',
};

const FORMATS: Record<string, string> = {
  datetime: 'must be a UTC instant ending in Z, such as 2026-07-14T18:00:00Z',
  date: 'must be a day, such as 2026-07-14',
  uuid: 'must be a UUID, such as 0198063e-4c00-7000-8000-000000000001',
  email: 'must be an e-mail address',
  url: 'must be a URL of the expected kind',
};

function oneOf(values: readonly string[]): string {
  return values.length === 1 ? `${values[0]}` : `one of ${values.join(', ')}`;
}

type Least = Pick<z.core.$ZodIssueTooSmall, 'origin' | 'minimum' | 'inclusive'>;

function tooSmall({ origin, minimum, inclusive }: Least): string {
  if (COUNTED[origin] === undefined) {
    return inclusive === false ? `must be more than ${minimum}` : `must be ${minimum} or more`;
  }
  if (Number(minimum) === 1) return 'must not be empty';
  return `must have at least ${minimum} ${COUNTED[origin]}`;
}

type Most = Pick<z.core.$ZodIssueTooBig, 'origin' | 'maximum' | 'inclusive'>;

function tooBig({ origin, maximum, inclusive }: Most): string {
  if (COUNTED[origin] === undefined) {
    return inclusive === false ? `must be less than ${maximum}` : `must be ${maximum} or less`;
  }
  return `must have at most ${maximum} ${COUNTED[origin]}`;
}

const COUNTED: Record<string, string> = { string: 'characters', array: 'items' };
