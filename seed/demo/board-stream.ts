import type { ApiClient } from './api-client.ts';

/** One event of the board's stream. */
export interface BoardNews {
  id: string;
  event: string;
  data: string;
}

/** The board's stream, open. */
export interface BoardStream {
  /** Where it began: whoever asks from there on is told all of it. */
  beganAt: string;
  /** Waits for the next change of a kind. */
  next(change: string): Promise<BoardNews>;
  close(): void;
}

/** Opens the board's stream as a screen at the office does, and waits until it is listened to. */
export async function followBoard(api: ApiClient): Promise<BoardStream> {
  const ending = new AbortController();
  const stream = await api.open('/v1/board/events', ending.signal);
  const news = readEvents(stream);
  // The first thing told is that the board is to be read: from here on nothing is missed.
  const { value: first } = await news.next();
  return {
    beganAt: first.id,
    next: async (change) => {
      for (;;) {
        const { done, value } = await news.next();
        if (done) throw new Error('the stream of the board ended');
        if (value.event === 'changed' && JSON.parse(value.data).event === change) return value;
      }
    },
    close: () => ending.abort(),
  };
}

/** Events as WHATWG HTML, 9.2, has them: fields line by line, a blank line after each. */
async function* readEvents(stream: ReadableStream<Uint8Array>): AsyncGenerator<BoardNews, never> {
  const decoder = new TextDecoder();
  let text = '';
  for await (const chunk of stream) {
    text += decoder.decode(chunk, { stream: true });
    const blocks = text.split('\n\n');
    text = blocks.pop() ?? '';
    for (const block of blocks) {
      const fields = new Map(block.split('\n').map((line) => fieldOf(line)));
      const data = fields.get('data');
      if (data === undefined) continue;
      yield { id: fields.get('id') ?? '', event: fields.get('event') ?? 'message', data };
    }
  }
  throw new Error('the stream of the board ended');
}

function fieldOf(line: string): [name: string, value: string] {
  const [, name = '', value = ''] = /^([^:]*): ?(.*)$/.exec(line) ?? [];
  return [name, value];
}
