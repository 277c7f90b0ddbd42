import { Worker } from 'node:worker_threads';
import { PaperRefused, type PaperSheet, type Report } from '../documents/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { DrawnPages } from '../proof/index.ts';

/** Draws papers beside the thread that answers requests. */
export interface Press {
  /**
   * @returns the file, and what a seal signs of its pages
   * @throws ProblemError 503 while as many papers wait as may wait, when the press is closed, when
   *   the worker that drew it died, and when it took too long and the worker was ended
   * @throws PaperRefused when the paper does not add up
   */
  draw(sheet: PaperSheet): Promise<DrawnPages>;
  /**
   * A report of the owner's, which nothing seals; it waits in the same line.
   * @throws ProblemError 503 as for a paper
   */
  drawReport(report: Report): Promise<Uint8Array>;
  /** How many papers are drawn now, and how many wait. */
  load(): { drawing: number; waiting: number };
  /** Ends the workers; what waits is refused. */
  close(): Promise<void>;
}

export interface PressOptions {
  workers: number;
  /** How many papers may wait beside those that are drawn. */
  waitingMax: number;
  /** How long one paper may take, with the start of its worker. */
  drawMsMax?: number;
  /** What the workers run; the press's own unless given. */
  script?: URL;
}

/** What a worker is asked for. */
export type Task =
  | { readonly kind: 'paper'; readonly sheet: PaperSheet }
  | { readonly kind: 'report'; readonly report: Report };

/** What a worker answers. */
export type Drawn =
  | { outcome: 'drawn'; pages: DrawnPages }
  | { outcome: 'printed'; bytes: Uint8Array }
  | { outcome: 'refused' | 'failed'; message: string };

interface Order {
  task: Task;
  resolve(drawn: Drawn): void;
  reject(error: Error): void;
}

interface Bench {
  worker: Worker;
  order: Order | undefined;
  /** Runs while the worker has an order. */
  limit?: NodeJS.Timeout;
}

/** A thousand times as long as ten pages take. */
const DRAW_MS_MAX = 30_000;
const START = new URL('./start-worker.mjs', import.meta.url);

/**
 * A press of so many workers. They start with the first paper. One that dies is replaced, and so is
 * one that does not come to an end; the paper it held is refused, for it may be what did it.
 */
export function createPress({
  workers,
  waitingMax,
  drawMsMax = DRAW_MS_MAX,
  script = START,
}: PressOptions): Press {
  const benches: Bench[] = [];
  const waiting: Order[] = [];
  let isClosed = false;

  const next = (): void => {
    const [order] = waiting;
    if (order === undefined || isClosed) return;
    const bench = benches.find((each) => each.order === undefined) ?? openBench();
    if (bench === undefined) return;
    waiting.shift();
    bench.order = order;
    bench.limit = setTimeout(() => {
      leave(bench, tookTooLong());
      void bench.worker.terminate();
    }, drawMsMax);
    bench.worker.ref();
    bench.worker.postMessage(order.task);
  };

  const openBench = (): Bench | undefined => {
    if (benches.length >= workers) return undefined;
    const bench: Bench = { worker: new Worker(script), order: undefined };
    benches.push(bench);
    bench.worker.on('message', (drawn: Drawn) => {
      const order = orderDone(bench);
      // A press that has nothing to do does not keep the program from ending.
      bench.worker.unref();
      order?.resolve(drawn);
      next();
    });
    const died = () => leave(bench, isClosed ? closed() : broken());
    bench.worker.on('error', died);
    bench.worker.on('exit', died);
    return bench;
  };

  const leave = (bench: Bench, because: ProblemError): void => {
    const at = benches.indexOf(bench);
    if (at === -1) return;
    benches.splice(at, 1);
    orderDone(bench)?.reject(because);
    next();
  };

  const drawn = (task: Task) =>
    new Promise<Drawn>((resolve, reject) => {
      if (isClosed) throw closed();
      const isFree = benches.some(({ order }) => order === undefined);
      if (!isFree && benches.length >= workers && waiting.length >= waitingMax) throw crowded();
      waiting.push({ task, resolve, reject });
      next();
    });

  return {
    draw: async (sheet) => {
      const answer = await drawn({ kind: 'paper', sheet });
      if (answer.outcome === 'drawn') return answer.pages;
      throw refusalOf(answer);
    },
    drawReport: async (report) => {
      const answer = await drawn({ kind: 'report', report });
      if (answer.outcome === 'printed') return answer.bytes;
      throw refusalOf(answer);
    },
    load: () => ({
      drawing: benches.filter(({ order }) => order !== undefined).length,
      waiting: waiting.length,
    }),
    close: async () => {
      isClosed = true;
      for (const { reject } of waiting.splice(0)) reject(closed());
      await Promise.all(benches.map(({ worker }) => worker.terminate()));
    },
  };
}

/** Takes its order off a bench. */
function orderDone(bench: Bench): Order | undefined {
  const { order } = bench;
  clearTimeout(bench.limit);
  bench.order = undefined;
  return order;
}

function refusalOf(drawn: Drawn): Error {
  switch (drawn.outcome) {
    case 'refused':
      return new PaperRefused(drawn.message);
    case 'failed':
      return new Error(drawn.message);
    case 'drawn':
    case 'printed':
      return new Error(`a worker answered with what nobody asked for: ${drawn.outcome}`);
  }
}

function crowded(): ProblemError {
  return new ProblemError('unavailable', 'Too many papers are being drawn. Try again in a moment.');
}

function closed(): ProblemError {
  return new ProblemError('unavailable', 'The service is closing.');
}

function tookTooLong(): ProblemError {
  return new ProblemError(
    'unavailable',
    'The paper took too long to draw and was given up. Try again in a moment.',
  );
}

function broken(): ProblemError {
  return new ProblemError(
    'unavailable',
    'The paper could not be drawn now. Try again in a moment.',
  );
}
