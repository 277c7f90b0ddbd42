import { type DestinationStream, type Logger, pino } from 'pino';
import { tellError } from './tell-error.ts';
import { withoutToken } from './without-token.ts';

/**
 * Structured log lines; whatever could let somebody in is left out.
 * @param destination standard output unless given
 */
export function createLog(level: string, destination?: DestinationStream): Logger {
  const options = {
    level,
    // What people search for, names and phone numbers, stands in the query, and what lets them in
    // in the headers or, of a customer's link, in the path; the log goes without.
    serializers: {
      req: ({ method, url, ip }: { method: string; url: string; ip: string }) => ({
        method,
        path: withoutToken(url).split('?')[0],
        remoteAddress: ip,
      }),
      // Errors carry what failed along: rows, recipients, connections with their passwords.
      err: tellError,
    },
    redact: { paths: ['*.password', '*.token'], censor: '[left out]' },
  };
  return destination === undefined ? pino(options) : pino(options, destination);
}
