import pg from 'pg';
import type { RecordedStatement } from './recorded.ts';

/** Takes down what every connection of this process sends. */
export interface StatementRecorder {
  /** What was sent since the last call. */
  take(): RecordedStatement[];
  stop(): void;
}

type Query = (...statement: unknown[]) => unknown;

/**
 * Records every statement of this process, and sends ROLLBACK wherever COMMIT is meant: a request
 * then does all its work and leaves nothing, so that the same work can be done in earnest later.
 */
export function rehearseStatements(): StatementRecorder {
  let taken: RecordedStatement[] = [];
  const prototype = pg.Client.prototype as unknown as { query: Query };
  const query = prototype.query;
  prototype.query = function rehearse(this: unknown, ...statement: unknown[]) {
    const recorded = recordedOf(statement);
    taken.push(recorded);
    const start = performance.now();
    const done = () => {
      recorded.ms = performance.now() - start;
    };
    const sent = recorded.text === 'COMMIT' ? ['ROLLBACK'] : statement;
    const answer = query.apply(
      this,
      sent.map((each) => tellingWhen(done, each)),
    );
    if (answer instanceof Promise) answer.then(done, done);
    return answer;
  };
  return {
    take: () => {
      const all = taken;
      taken = [];
      return all;
    },
    stop: () => {
      prototype.query = query;
    },
  };
}

/** A callback that also tells when it is called; anything else as it is. */
function tellingWhen(done: () => void, argument: unknown): unknown {
  if (typeof argument !== 'function') return argument;
  return (...answer: unknown[]) => {
    done();
    argument(...answer);
  };
}

function recordedOf([first, second]: unknown[]): RecordedStatement {
  if (typeof first === 'string') {
    return { text: first, values: Array.isArray(second) ? second : [], ms: 0 };
  }
  const config = first as { text: string; values?: unknown[]; name?: string; rowMode?: string };
  return {
    text: config.text,
    values: config.values ?? (Array.isArray(second) ? second : []),
    ...(config.name && { name: config.name }),
    ...(config.rowMode === 'array' && { rowMode: 'array' }),
    ms: 0,
  };
}
