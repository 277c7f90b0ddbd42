import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createFollower } from '../../src/board/follower.ts';
import { keepEvents } from '../../src/board/kept-events.ts';
import type { BoardEvent } from '../../src/board/read-events.ts';

function eventAt(position: number): BoardEvent {
  const at = '2026-07-14T18:00:00.000Z';
  return { position, at, event: 'ticket.opened', days: [], technicianIds: [] };
}

const upTo = (count: number) => Array.from({ length: count }, (_, at) => eventAt(at + 1));

describe('a client that does not read', () => {
  it('is kept little for, is dropped after two signs of life, and nobody waits for it', async () => {
    const kept = keepEvents(0, 1_000_000);
    const follower = createFollower(() => kept, { after: 0, mustReload: false });
    const dropped = new Promise((resolve) => follower.stream.once('close', resolve));
    kept.append({ events: upTo(50_000), readTo: 50_000 });
    follower.tell();
    // Some hundred bytes for each of fifty thousand: all but a few still only a place in the list.
    expect(follower.stream.readableLength).toBeLessThan(100_000);
    follower.keepAlive();
    expect(follower.stream.destroyed).toBe(false);
    follower.keepAlive();
    expect(follower.stream.destroyed).toBe(true);
    await dropped;
    follower.tell();
    follower.end();
  });

  it('is not dropped for being slow, as long as it reads', async () => {
    const kept = keepEvents(0, 1_000_000);
    const follower = createFollower(() => kept, { after: 0, mustReload: false });
    kept.append({ events: upTo(5_000), readTo: 5_000 });
    follower.tell();
    let text = '';
    for await (const chunk of follower.stream) {
      text += chunk;
      follower.keepAlive();
      if (text.includes('id: 5000\n')) break;
    }
    const ids = [...text.matchAll(/^event: changed\nid: (\d+)$/gm)].map(([, id]) => Number(id));
    expect(ids).toEqual(upTo(5_000).map(({ position }) => position));
  });

  it('and fell behind all that is kept is dropped, so that it never misses a part unknowingly', async () => {
    const kept = keepEvents(0, 100);
    const follower = createFollower(() => kept, { after: 0, mustReload: false });
    const dropped = new Promise((resolve) => follower.stream.once('close', resolve));
    kept.append({ events: upTo(200), readTo: 200 });
    follower.tell();
    expect(follower.stream.destroyed).toBe(true);
    await dropped;
  });
});

describe('a client that is replaced by a newer one', () => {
  it('is told all before it, that it is replaced, and nothing more', async () => {
    const kept = keepEvents(0, 100);
    const follower = createFollower(() => kept, { after: 0, mustReload: false });
    kept.append({ events: upTo(2), readTo: 5 });
    follower.tell();
    follower.replace();
    follower.replace();
    kept.append({ events: [eventAt(6)], readTo: 6 });
    follower.tell();
    follower.keepAlive();
    let text = '';
    for await (const chunk of follower.stream) text += chunk;
    expect(text.match(/^(event|id): .*$/gm)).toEqual([
      ...['event: changed', 'id: 1', 'event: changed', 'id: 2'],
      ...['event: replaced', 'id: 5'],
    ]);
  });

  it('and does not read that is dropped after two signs of life', async () => {
    const kept = keepEvents(0, 100);
    const follower = createFollower(() => kept, { after: 0, mustReload: false });
    const dropped = new Promise((resolve) => follower.stream.once('close', resolve));
    follower.replace();
    follower.keepAlive();
    expect(follower.stream.destroyed).toBe(false);
    follower.keepAlive();
    expect(follower.stream.destroyed).toBe(true);
    await dropped;
  });
});

describe('what is kept', () => {
  it('is every event of the latest places and of none before, however they came', () => {
    const step = fc.record({
      entries: fc.integer({ min: 0, max: 40 }),
      every: fc.integer({ min: 1, max: 5 }),
    });
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        fc.array(step, { maxLength: 20 }),
        (spanMax, steps) => {
          const kept = keepEvents(0, spanMax);
          const all: number[] = [];
          for (const { entries, every } of steps) {
            const places = Array.from({ length: entries }, (_, at) => kept.head + at + 1);
            const concerning = places.filter((place) => place % every === 0);
            all.push(...concerning);
            kept.append({ events: concerning.map(eventAt), readTo: kept.head + entries });
          }
          expect(kept.head - kept.start).toBeLessThanOrEqual(spanMax);
          const told: number[] = [];
          for (let place = kept.start; ; ) {
            const next = kept.nextAfter(place);
            if (next === undefined) break;
            told.push(next.position);
            place = next.position;
          }
          expect(told).toEqual(all.filter((place) => place > kept.start));
        },
      ),
    );
  });

  it('can be read further back, and is then told from there', () => {
    const kept = keepEvents(100, 1_000);
    kept.prepend(90, [eventAt(93), eventAt(98)]);
    expect(kept.start).toBe(90);
    expect(
      [kept.nextAfter(90), kept.nextAfter(93), kept.nextAfter(98)].map((each) => each?.position),
    ).toEqual([93, 98, undefined]);
  });
});
