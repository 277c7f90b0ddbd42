import { violationOf } from './database/violation.ts';
import { withoutToken } from './without-token.ts';

/** What the log says of an error. */
export interface ToldError {
  type: string;
  message: string;
  stack?: string;
  code?: string;
  /** What the database refused by: its SQLSTATE and the constraint. */
  sqlState?: string;
  constraint?: string;
  cause?: ToldError;
}

/**
 * An error as it may be logged: what went wrong and where, never with which values. Errors of the
 * database and of mail servers carry rows, addresses and whole connections as further fields, so
 * only fields that are known to be harmless are taken, and texts lose addresses and passwords.
 */
export function tellError(error: unknown, causesMax = 3): ToldError {
  if (!(error instanceof Error)) return { type: typeof error, message: 'not an error' };
  const code = 'code' in error ? error.code : undefined;
  const violation = violationOf(error);
  return {
    type: error.name,
    message: withoutValues(error.message),
    ...(error.stack !== undefined && { stack: withoutValues(error.stack) }),
    ...((typeof code === 'string' || typeof code === 'number') && { code: String(code) }),
    ...(violation?.sqlState !== undefined && { sqlState: violation.sqlState }),
    ...(violation?.constraint !== undefined && { constraint: violation.constraint }),
    ...(error.cause !== undefined &&
      causesMax > 0 && { cause: tellError(error.cause, causesMax - 1) }),
  };
}

function withoutValues(text: string): string {
  return text
    .split('\n')
    .map((line) => withoutToken(line.replace(CREDENTIALS, '$1[left out]@').replace(MAIL, LEFT_OUT)))
    .map((line) =>
      line.replace(ROW_VALUES, `$1${LEFT_OUT})`).replace(QUOTED_VALUE, `$1${LEFT_OUT}`),
    )
    .join('\n');
}

const LEFT_OUT = '[left out]';
const CREDENTIALS = /(\w:\/\/)[^\s/@]+@/g;
const MAIL = /[^\s<>"'()[\]:,;]+@[\w-]+(?:\.[\w-]+)+/g;
/** As PostgreSQL repeats a row: "Key (phone)=(555-0100)", "Failing row contains (...)". */
const ROW_VALUES = /(Key \([^)]*\)=\(|Failing row contains \().*\)/g;
/** As PostgreSQL repeats a value that it could not read. */
const QUOTED_VALUE = /(invalid input (?:syntax|value) for [^:]*: ).*/g;
