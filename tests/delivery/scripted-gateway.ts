import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

/** What a gateway for texts does with one request. */
export type GatewayAnswer = { status: number; words?: string } | 'hangs' | 'closes';

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
      asked.push({
        key: typeof key === 'string' ? key : undefined,
        body: JSON.parse(Buffer.concat(chunks).toString()),
      });
      if (answer === 'hangs' || answer === undefined) return;
      if (answer === 'closes') request.socket.destroy();
      else response.writeHead(answer.status).end(answer.words ?? '');
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
