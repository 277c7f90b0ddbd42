import { type Logger, pino } from 'pino';

/** Structured log lines on standard output; whatever could let somebody in is left out. */
export function createLog(level: string): Logger {
  return pino({
    level,
    redact: {
      paths: ['req.headers.authorization', 'req.headers.cookie', '*.password', '*.token'],
      censor: '[left out]',
    },
  });
}
