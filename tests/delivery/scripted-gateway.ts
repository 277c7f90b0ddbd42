import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

/**
 * What a gateway for texts does with one request. One that `compares` keeps the first text it got
 * under each key, and says so in this status to another one under it.
 */
export type GatewayAnswer =
  | { status: number; words?: string }
  | { compares: number }
  | 'hangs'
  | 'closes';

export interface ScriptedGateway {
  url: string;
  /** What it was asked, in order. */
  asked: { key: string | undefined; body: { id: string; to: string; text: string } }[];
  close(): Promise<void>;
}

/** A gateway for texts on loopback that answers as it is told, and the last way from then on. */
export async function scriptedGateway(answers: readonly GatewayAnswer[]): Promise<ScriptedGateway> {
  const asked: ScriptedGateway['asked'] = [];
  const server = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on('error', () => undefined);
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      const answer = answers[Math.min(asked.length, answers.length - 1)];
      const key = request.headers['idempotency-key'];
      const body = JSON.parse(Buffer.concat(chunks).toString());
      const first = asked.find((one) => one.key === key)?.body.text ?? body.text;
      asked.push({ key: typeof key === 'string' ? key : undefined, body });
      if (answer === 'hangs' || answer === undefined) return;
      if (answer === 'closes') request.socket.destroy();
      else if ('status' in answer) response.writeHead(answer.status).end(answer.words ?? '');
      else if (first === body.text) response.writeHead(202).end();
      else response.writeHead(answer.compares).end('another text has this key');
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/texts`,
    asked,
    close: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
