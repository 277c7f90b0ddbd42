import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import { setTimeout as wait } from 'node:timers/promises';

/** The way to a server, which can go wrong. */
export interface Line {
  port: number;
  /** Ends every connection at once, as a network that fails does: with a reset. */
  cut(): void;
  /** From now on everything comes so much later, each piece by itself. */
  delay(milliseconds: number): void;
  /** From now on, until told otherwise, nothing comes through and nobody is told. */
  swallow(isSwallowing: boolean): void;
  close(): Promise<void>;
}

/** A port that stays the same, before a server that may come back at another one each time. */
export async function openLine(target: () => number): Promise<Line> {
  const ends = new Set<Socket>();
  let [delayMs, isSwallowing] = [0, false];
  const carry = (from: Socket, to: Socket) => {
    ends.add(from);
    from.on('data', async (piece) => {
      if (delayMs > 0) {
        from.pause();
        await wait(delayMs);
        from.resume();
      }
      if (!isSwallowing) to.write(piece);
    });
    from.on('end', () => to.end());
    from.on('error', () => to.destroy());
    from.on('close', () => {
      ends.delete(from);
      to.destroy();
    });
  };
  const line = createServer((near) => {
    const far = connect(target(), '127.0.0.1');
    carry(near, far);
    carry(far, near);
  }).listen(0, '127.0.0.1');
  await once(line, 'listening');
  const cut = () => {
    for (const end of ends) end.resetAndDestroy();
  };
  return {
    // A server that listens on a port has an address of this form.
    port: (line.address() as AddressInfo).port,
    cut,
    delay: (milliseconds) => {
      delayMs = milliseconds;
    },
    swallow: (is) => {
      isSwallowing = is;
    },
    close: async () => {
      line.close();
      cut();
    },
  };
}
