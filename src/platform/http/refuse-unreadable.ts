import type { Socket } from 'node:net';
import { v4 } from 'uuid';
import { PROBLEM_TYPE } from './mount.ts';
import { ProblemError, problemBody } from './problem.ts';

/**
 * Answers what is not HTTP, has too large headers or takes too long to arrive. The framework has
 * not seen such a request, so the answer is written on the bare connection, which then ends.
 */
export function refuseUnreadable(typeBase: string) {
  return (error: Error & { code?: string }, socket: Socket): void => {
    if (error.code === 'ECONNRESET' || socket.destroyed) return;
    if (socket.writable) socket.write(answer(typeBase));
    socket.destroy(error);
  };
}

function answer(typeBase: string): string {
  const problem = new ProblemError('malformed-request', 'This is not a request this API can read.');
  const id = v4();
  const body = JSON.stringify(problemBody(problem, { id, instance: '/', typeBase }));
  return [
    'HTTP/1.1 400 Bad Request',
    `Content-Type: ${PROBLEM_TYPE}`,
    `Content-Length: ${Buffer.byteLength(body)}`,
    `X-Request-Id: ${id}`,
    'Connection: close',
    '',
    body,
  ].join('\r\n');
}
