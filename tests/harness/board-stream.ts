import { type ClientRequest, type IncomingMessage, request } from 'node:http';
import { createParser } from 'eventsource-parser';

/** One event as an independent parser read it. */
export interface Told {
  event: string;
  id: string;
  // biome-ignore lint/suspicious/noExplicitAny: JSON as a client gets it; tests look at its fields.
  data: any;
}

/** A client of the board's stream on a connection of its own. */
export interface BoardClient {
  response: IncomingMessage;
  told: Told[];
  /** Everything that came, comments and all. */
  text(): string;
  /** Waits until so many events came, or throws. */
  until(count: number): Promise<Told[]>;
  /** Waits until what came satisfies. */
  untilIt(does: (client: BoardClient) => boolean): Promise<void>;
  /** Resolves when the other side, or this one, has ended it. */
  ended: Promise<void>;
  drop(): void;
}

export interface FollowOptions {
  port: number;
  token: string;
  lastEventId?: string;
  after?: number;
  method?: 'GET' | 'HEAD';
  /** Goes away after so many bytes, at whatever place of an event that is. */
  dropAfterBytes?: number;
}

/** Opens the stream and reads it as it comes. */
export async function followBoard(options: FollowOptions): Promise<BoardClient> {
  const { sent, response } = await open(options);
  const told: Told[] = [];
  const parser = createParser({
    onEvent: ({ event = 'message', id = '', data }) =>
      told.push({ event, id, data: JSON.parse(data) }),
  });
  let text = '';
  let left = options.dropAfterBytes ?? Number.POSITIVE_INFINITY;
  // A letter of several bytes may come in two pieces.
  const decoder = new TextDecoder();
  response.on('data', (chunk: Buffer) => {
    const taken = decoder.decode(chunk.subarray(0, left), { stream: true });
    left -= chunk.length;
    text += taken;
    parser.feed(taken);
    if (left <= 0) sent.destroy();
  });
  response.on('error', () => undefined);
  const ended = new Promise<void>((resolve) => response.once('close', () => resolve()));
  const client: BoardClient = {
    response,
    told,
    text: () => text,
    until: async (count) => {
      await client.untilIt(() => told.length >= count);
      return told;
    },
    untilIt: (does) =>
      waitUntil(
        () => does(client),
        () => text,
      ),
    ended,
    drop: () => sent.destroy(),
  };
  return client;
}

async function open({ port, token, lastEventId, after, method = 'GET' }: FollowOptions) {
  return new Promise<{ sent: ClientRequest; response: IncomingMessage }>((resolve, reject) => {
    const path = `/v1/board/events${after === undefined ? '' : `?after=${after}`}`;
    const headers = {
      authorization: `Bearer ${token}`,
      ...(lastEventId !== undefined && { 'last-event-id': lastEventId }),
    };
    const sent = request({ host: '127.0.0.1', port, path, method, headers, agent: false });
    sent.once('response', (response) => resolve({ sent, response }));
    // After it was answered the other side may go away at any time.
    sent.on('error', reject);
    sent.end();
  });
}

async function waitUntil(holds: () => boolean, said: () => string): Promise<void> {
  const deadline = Date.now() + 20_000;
  while (!holds()) {
    if (Date.now() > deadline) throw new Error(`it did not come; what came was:\n${said()}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}
