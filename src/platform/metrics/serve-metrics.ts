import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Registry } from 'prom-client';

/** A listener for figures. */
export interface MetricsServer {
  url: string;
  close(): Promise<void>;
}

/**
 * Serves figures at `/metrics` of a listener of its own, so that no setting of the public one lets
 * the world read them (ASVS 13.4.5). It has no tokens: who reaches the listener may read.
 */
export async function serveMetrics(
  registry: Registry,
  { host, port }: { host: string; port: number },
): Promise<MetricsServer> {
  const server = createServer((request, response) => {
    if (request.method !== 'GET' || request.url !== '/metrics') {
      response.writeHead(404).end();
      return;
    }
    registry.metrics().then(
      (text) => response.writeHead(200, { 'content-type': registry.contentType }).end(text),
      () => response.writeHead(500).end(),
    );
  });
  server.listen(port, host);
  await once(server, 'listening');
  // A listener that listens on a port has an address of this form.
  const { address, port: taken, family } = server.address() as AddressInfo;
  return {
    url: `http://${family === 'IPv6' ? `[${address}]` : address}:${taken}/metrics`,
    close: async () => {
      server.close();
      server.closeAllConnections();
      await once(server, 'close').catch(() => undefined);
    },
  };
}
