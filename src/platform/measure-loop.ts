/** A watch over the event loop. */
export interface LoopWatch {
  /** How late the last look was, at the worst of the last few. */
  delayMs(): number;
  stop(): void;
}

/**
 * Looks at the clock again and again, and notes how much later than it wanted. Whatever keeps the
 * event loop busy keeps the look waiting for as long.
 * @param everyMs how often it looks
 */
export function measureLoop(everyMs = 100, nowMs = () => performance.now()): LoopWatch {
  const delays = [0];
  let dueMs = nowMs() + everyMs;
  const timer = setInterval(() => {
    delays.push(Math.max(0, nowMs() - dueMs));
    if (delays.length > LOOKS_KEPT) delays.shift();
    dueMs = nowMs() + everyMs;
  }, everyMs);
  // It keeps nobody from ending.
  timer.unref();
  return { delayMs: () => Math.max(...delays), stop: () => clearInterval(timer) };
}

/** One late look among prompt ones is forgotten within half a second. */
const LOOKS_KEPT = 5;
