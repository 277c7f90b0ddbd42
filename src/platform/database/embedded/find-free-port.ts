import { once } from 'node:events';
import { createServer } from 'node:net';

/** A TCP port that was free on 127.0.0.1 a moment ago; somebody else may take it before we do. */
export async function findFreePort(): Promise<number> {
  const server = createServer();
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  if (address === null || typeof address === 'string') throw new Error('No TCP port was given.');
  return address.port;
}
