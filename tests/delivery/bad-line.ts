import net from 'node:net';

/** What happens to a connection when so many bytes went one way: both ways end, or fall silent. */
export interface Cut {
  way: 'to_server' | 'to_client';
  afterBytes: number;
  does: 'drop' | 'stall';
}

export interface BadLine {
  port: number;
  close(): Promise<void>;
}

/**
 * A line to a server that breaks where it is told, at any byte. `cutOf` is asked once for each
 * connection; undefined is a line that holds.
 */
export async function badLine(
  serverPort: number,
  cutOf: (connection: number) => Cut | undefined,
): Promise<BadLine> {
  const sockets = new Set<net.Socket>();
  let connections = 0;
  const listening = net.createServer((client) => {
    const cut = cutOf(connections);
    connections += 1;
    const server = net.connect(serverPort, '127.0.0.1');
    for (const socket of [client, server]) {
      sockets.add(socket);
      socket.on('error', () => undefined);
      socket.on('close', () => sockets.delete(socket));
    }
    carry(client, server, cut?.way === 'to_server' ? cut : undefined);
    carry(server, client, cut?.way === 'to_client' ? cut : undefined);
  });
  await new Promise<void>((resolve) => listening.listen(0, '127.0.0.1', resolve));
  return {
    port: (listening.address() as net.AddressInfo).port,
    close: async () => {
      for (const socket of sockets) socket.destroy();
      await new Promise((resolve) => listening.close(resolve));
    },
  };
}

function carry(from: net.Socket, to: net.Socket, cut: Cut | undefined): void {
  let left = cut?.afterBytes ?? Number.POSITIVE_INFINITY;
  from.on('data', (bytes: Buffer) => {
    const passed = bytes.subarray(0, Math.min(left, bytes.length));
    if (passed.length > 0) to.write(passed);
    left -= passed.length;
    if (left > 0 || cut?.does !== 'drop') return;
    // What passed has arrived before the line breaks.
    to.end(() => {
      from.destroy();
      to.destroy();
    });
  });
  from.on('close', () => to.destroy());
  from.on('end', () => to.end());
}
