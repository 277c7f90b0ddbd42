import { setTimeout as wait } from 'node:timers/promises';
import { type Office, type Step, stepsOfJob } from '../harness/steps-of-job.ts';

/** What several people at work were told. */
export interface JobsWritten {
  /** What was answered with success, by the path that was asked: the identifiers, in order. */
  acknowledged: Map<string, string[]>;
  /** How many writes were acknowledged. */
  writes: number;
  /** Jobs that came as far as their issued quote. */
  jobsDone: number;
  /** Jobs that were begun. */
  jobsBegun: number;
  /** Refusals that no trouble of the machine explains. */
  refused: string[];
  /** Problems that say to try again, and connections that were cut. */
  troubles: { code: string; retryAfter: string | null; tookMs: number }[];
}

/** People at work, each on one job after another; every request is sent again until it is answered. */
export interface JobWriters {
  written: JobsWritten;
  stop(): Promise<void>;
}

/** @param url where the service is now: it may be another place after each start */
export function startJobWriters(
  undo: (() => Promise<unknown>)[],
  { url, office, count }: { url: () => string; office: Office; count: number },
): JobWriters {
  const written: JobsWritten = {
    ...{ acknowledged: new Map(), writes: 0, jobsDone: 0, jobsBegun: 0, refused: [], troubles: [] },
  };
  let isStopping = false;
  const work = async () => {
    while (!isStopping) {
      const steps = stepsOfJob(office, written.jobsBegun++);
      let step = steps.next();
      while (step.done !== true) {
        const answer = await sendUntilAnswered(url, step.value, written, () => isStopping);
        if (answer === undefined) return;
        step = steps.next(answer);
      }
      written.jobsDone += 1;
    }
  };
  const all = Promise.all(Array.from({ length: count }, work));
  undo.push(async () => {
    isStopping = true;
    await all;
  });
  const stop = async () => {
    isStopping = true;
    await all;
  };
  return { written, stop };
}

/** @returns undefined when it was refused, or nobody answered before the end */
async function sendUntilAnswered(
  url: () => string,
  step: Step,
  written: JobsWritten,
  isStopping: () => boolean,
): Promise<{ etag: string | undefined; body: Record<string, unknown> } | undefined> {
  while (true) {
    const startedAt = performance.now();
    const answer = await sendOnce(url(), step);
    const tookMs = performance.now() - startedAt;
    if (answer !== undefined && answer.status < 300) {
      if (step.kind === 'write') note(written, step.path, answer.body);
      return answer;
    }
    const code = String(answer?.body['code'] ?? 'cut');
    if (code !== 'cut' && code !== 'unavailable' && code !== 'request-in-progress') {
      written.refused.push(`${step.path}: ${JSON.stringify(answer?.body)}`);
      return undefined;
    }
    written.troubles.push({ code, retryAfter: answer?.retryAfter ?? null, tookMs });
    if (isStopping()) return undefined;
    await wait(50);
  }
}

async function sendOnce(url: string, { method, path, headers, body }: Step) {
  try {
    const response = await fetch(`${url}${path}`, {
      ...{ method, headers },
      ...(body !== undefined && { body: JSON.stringify(body) }),
    });
    return {
      status: response.status,
      retryAfter: response.headers.get('retry-after'),
      etag: response.headers.get('etag') ?? undefined,
      body: (await response.json()) as Record<string, unknown>,
    };
  } catch {
    return undefined;
  }
}

function note(written: JobsWritten, path: string, body: Record<string, unknown>): void {
  written.writes += 1;
  // Identifiers are left out of the path, so that what is of one kind stands together.
  const kind = path.replace(/[0-9a-f]{8}-[0-9a-f-]{27}/g, ':id');
  const ids = written.acknowledged.get(kind) ?? [];
  ids.push(String(body['id'] ?? ''));
  written.acknowledged.set(kind, ids);
}
