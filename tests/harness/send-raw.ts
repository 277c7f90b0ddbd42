import { type AddressInfo, connect } from 'node:net';
import type { FastifyInstance } from 'fastify';

/** Sends letters as they are, of which a client would make a request, and gives all that came back. */
export function sendRaw(
  { server }: Pick<FastifyInstance, 'server'>,
  text: string,
): Promise<string> {
  // A server that listens on a port has an address of this form.
  const { port } = server.address() as AddressInfo;
  return new Promise((resolve, reject) => {
    let answer = '';
    const socket = connect(port, '127.0.0.1', () => socket.write(text));
    socket.on('data', (data) => {
      answer += data.toString();
    });
    socket.on('close', () => resolve(answer));
    socket.on('error', reject);
  });
}
