import { setTimeout as wait } from 'node:timers/promises';
import type { Undo } from './temporary.ts';

/** What became of every customer that some writers wanted to add. */
export interface Written {
  /** Answered with 201, by name. */
  acknowledged: Set<string>;
  /** Refused with a 503 problem, or the connection was refused or cut, by name; never answered 201. */
  refused: Set<string>;
  /** Problems as they came, by code. */
  problems: { code: string; status: number; retryAfter: string | null; mediaType: string | null }[];
  /** How often a connection was refused or cut. */
  cuts: number;
}

/** Writers at work. */
export interface Writers {
  written: Written;
  /** Lets them end what they are at, and waits for it. */
  stop(): Promise<void>;
}

/**
 * So many writers, each adding one customer after another under a key of its own.
 * @param again whether a request that was not acknowledged is sent again, under its key, until it
 *   is; otherwise it was the writer's last
 */
export function startWriters(
  undo: Undo,
  { url, token, count, again }: { url: string; token: string; count: number; again: boolean },
): Writers {
  const written: Written = {
    ...{ acknowledged: new Set(), refused: new Set() },
    ...{ problems: [], cuts: 0 },
  };
  let isStopping = false;
  const write = async (writer: number) => {
    for (let nth = 0; !isStopping; nth += 1) {
      const name = `Writer ${writer} of customer ${nth}`;
      const key = crypto.randomUUID();
      let isDone = await send({ url, token, name, key }, written);
      while (!isDone && again) {
        await wait(20);
        isDone = await send({ url, token, name, key }, written);
      }
      if (!isDone) {
        written.refused.add(name);
        return;
      }
      written.acknowledged.add(name);
    }
  };
  const all = Promise.all(Array.from({ length: count }, (_, writer) => write(writer)));
  const stop = async () => {
    isStopping = true;
    await all;
  };
  undo.push(async () => {
    isStopping = true;
  });
  return { written, stop };
}

interface Addition {
  url: string;
  token: string;
  name: string;
  key: string;
}

/** True when it was acknowledged. */
async function send({ url, token, name, key }: Addition, written: Written): Promise<boolean> {
  const answer = await fetch(`${url}/v1/customers`, {
    method: 'POST',
    headers: {
      authorization: `Bearer ${token}`,
      'content-type': 'application/json',
      'idempotency-key': key,
    },
    body: JSON.stringify({ name, phone: '555-0150' }),
  })
    .then(async (response) => ({ response, body: await response.json() }))
    .catch(() => undefined);
  if (answer === undefined) {
    written.cuts += 1;
    return false;
  }
  const { response, body } = answer;
  if (response.status === 201) return true;
  written.problems.push({
    code: (body as { code: string }).code,
    status: response.status,
    retryAfter: response.headers.get('retry-after'),
    mediaType: response.headers.get('content-type'),
  });
  return false;
}
