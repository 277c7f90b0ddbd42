import fc from 'fast-check';
import { followBoard, type Told } from './board-stream.ts';

/** A client that is cut off over and over. */
export interface Dropping {
  port: number;
  token: string;
  after: number;
  seed: number;
  /** Whether it has been cut off often enough, asked with how often it was. */
  isOver(drops: number): boolean;
}

/** Follows, is cut off at a random byte or moment, and comes back, over and over. */
export async function followBrokenly({
  port,
  token,
  after,
  seed,
  isOver,
}: Dropping): Promise<Told[]> {
  const bytes = fc.sample(fc.integer({ min: 1, max: 1_200 }), { numRuns: CUTS, seed });
  const waits = fc.sample(fc.integer({ min: 1, max: 120 }), { numRuns: CUTS, seed: seed + 1 });
  const told: Told[] = [];
  for (let drops = 0; !isOver(drops); drops += 1) {
    const client = await followBoard({
      ...{ port, token, after },
      ...placeOf(told),
      dropAfterBytes: bytes[drops % CUTS] ?? 1,
    });
    const timer = setTimeout(client.drop, waits[drops % CUTS]);
    await client.ended;
    clearTimeout(timer);
    told.push(...client.told);
  }
  return told;
}

/** So many different ones, before they come again. */
const CUTS = 500;

/** Reads the rest, up to a place and with it, without being cut off. */
export async function followToTheEnd(
  { port, token, after }: Pick<Dropping, 'port' | 'token' | 'after'>,
  told: Told[],
  last: number,
): Promise<Told[]> {
  const client = await followBoard({ port, token, after, ...placeOf(told) });
  await client.untilIt(() => Number((client.told.at(-1) ?? told.at(-1))?.id) >= last);
  client.drop();
  return [...told, ...client.told];
}

/** The places of what was told; the name of any event that is not of a change. */
export function positionsOf(told: readonly Told[]): (number | string)[] {
  return told.map(({ id, event }) => (event === 'changed' ? Number(id) : event));
}

function placeOf(told: readonly Told[]): { lastEventId?: string } {
  const lastEventId = told.at(-1)?.id;
  return lastEventId === undefined ? {} : { lastEventId };
}
