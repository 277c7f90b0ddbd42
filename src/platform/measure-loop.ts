/** A watch over the event loop. */
export interface LoopWatch {
  /** By how much each of the last few looks was late at least. */
  delayMs(): number;
  stop(): void;
}

/**
 * Looks at the clock again and again, and notes how much later than it wanted: whatever keeps the
 * event loop busy keeps the look waiting for as long. One long piece of work, such as the start, is
 * no crowd; only what keeps every one of the last looks waiting is.
 * @param everyMs how often it looks
 */
export function measureLoop(everyMs = 100, nowMs = () => performance.now()): LoopWatch {
  const delays = Array.from({ length: LOOKS_KEPT }, () => 0);
  let dueMs = nowMs() + everyMs;
  const timer = setInterval(() => {
    delays.push(Math.max(0, nowMs() - dueMs));
    delays.shift();
    dueMs = nowMs() + everyMs;
  }, everyMs);
  // It keeps nobody from ending.
  timer.unref();
  return { delayMs: () => Math.min(...delays), stop: () => clearInterval(timer) };
}

const LOOKS_KEPT = 3;
