import { EmbeddedError, type EmbeddedErrorCode, USE_ANOTHER_SERVER } from './embedded-error.ts';

/**
 * Turns the words of a failed program (initdb, postgres) or of a failed system call into an error
 * that says what to do. The last lines of the original text are always kept.
 */
export function explainFailure(
  text: string,
  dataDir: string,
  options?: ErrorOptions,
): EmbeddedError {
  const known = EXPLANATIONS.find(({ sign }) => sign.test(text));
  const { code, advice } = known ?? UNKNOWN;
  return new EmbeddedError(
    code,
    `${advice(dataDir)} ${USE_ANOTHER_SERVER}\n${lastLines(text)}`,
    options,
  );
}

type Explanation = { code: EmbeddedErrorCode; advice: (dataDir: string) => string };

// Both Postgres and Node quote the system's own message, so one sign fits both.
const EXPLANATIONS: readonly (Explanation & { sign: RegExp })[] = [
  {
    sign: /no space left on device|check free disk space|disk quota exceeded|ENOSPC|EDQUOT/i,
    code: 'disk_full',
    advice: (dataDir) => `The disk that holds ${dataDir} is full. Free some space and start again.`,
  },
  {
    sign: /could not look up effective user ID/i,
    code: 'no_account',
    advice: () =>
      'This process runs under a user id that has no account, and Postgres needs one with a name. ' +
      'Start as a user that /etc/passwd knows.',
  },
  {
    sign: /permission denied|read-only file system|not a directory|file exists|EACCES|EPERM|EROFS|ENOTDIR|EEXIST/i,
    code: 'not_writable',
    advice: (dataDir) =>
      `The data directory ${dataDir} cannot be used: it must be a directory that this account can ` +
      'write to. Correct its permissions, or set EVENHAND_DATA_DIR to another directory.',
  },
];

const UNKNOWN: Explanation = {
  code: 'start_failed',
  advice: (dataDir) => `The embedded Postgres on ${dataDir} could not start.`,
};

function lastLines(text: string): string {
  return text.trim().split('\n').slice(-LINES_KEPT_MAX).join('\n');
}

const LINES_KEPT_MAX = 12;
