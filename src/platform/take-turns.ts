/** Work that is done again and again. */
export interface Turns {
  /** Lets the turn that is under way end; no other begins. */
  stop(): Promise<void>;
}

/**
 * Does something now, and again so long after it ended, until stopped. Two turns never overlap.
 * @param turn asks `isStopping` between its pieces, so that whoever stops it waits for one piece
 * @param onFailure told why a turn failed; the next one tries again
 */
export function takeTurns(
  turn: (isStopping: () => boolean) => Promise<void>,
  everyMs: number,
  onFailure: (error: unknown) => void,
): Turns {
  let stopping = false;
  let timer: NodeJS.Timeout | undefined;
  let running: Promise<void>;

  const begin = () => {
    running = turn(() => stopping)
      .catch(onFailure)
      .then(() => {
        if (!stopping) timer = setTimeout(begin, everyMs);
      });
  };
  begin();

  return {
    stop: async () => {
      stopping = true;
      clearTimeout(timer);
      await running;
    },
  };
}
