import type { Socket } from 'node:net';
import { v4 } from 'uuid';
import { PROBLEM_TYPE } from './mount.ts';
import { ProblemError, problemBody } from './problem.ts';
import { STRICT_HEADERS } from './strict-headers.ts';

/**
 * Answers what is not HTTP, has too large headers or takes too long to arrive. The framework has
 * not seen such a request, so the answer is written on the bare connection, which then ends.
 */
export function refuseUnreadable(typeBase: string) {
  return (error: Error & { code?: string }, socket: Socket): void => {
    if (error.code === 'ECONNRESET' || socket.destroyed) return;
    if (!socket.writable) socket.destroy(error);
    else endWith(socket, answer(typeBase));
  };
}

/**
 * Sends the answer and closes. What is still arriving is read away first: a connection closed over
 * unread bytes is reset, and the reset takes the answer with it. Whoever never stops is cut off.
 */
function endWith(socket: Socket, text: string): void {
  const patience = setTimeout(() => socket.destroy(), PATIENCE_MS);
  socket.once('close', () => clearTimeout(patience));
  socket.on('error', () => socket.destroy());
  socket.on('data', () => undefined);
  socket.end(text);
}

const PATIENCE_MS = 1_000;

function answer(typeBase: string): string {
  const problem = new ProblemError('malformed-request', 'This is not a request this API can read.');
  const id = v4();
  const body = JSON.stringify(problemBody(problem, { id, instance: '/', typeBase }));
  return [
    'HTTP/1.1 400 Bad Request',
    `Content-Type: ${PROBLEM_TYPE}`,
    `Content-Length: ${Buffer.byteLength(body)}`,
    `X-Request-Id: ${id}`,
    'Cache-Control: no-store',
    ...Object.entries(STRICT_HEADERS).map(([name, value]) => `${name}: ${value}`),
    'Connection: close',
    '',
    body,
  ].join('\r\n');
}
