import { describe, expect, it } from 'vitest';
import { timedIds } from '../../src/platform/ids.ts';
import { fixedClock } from '../harness/fixed-clock.ts';

describe('identifiers', () => {
  it('rise within one millisecond, so that what was made later comes later on a page', () => {
    const ids = timedIds(fixedClock());
    const made = Array.from({ length: 10_000 }, () => ids.next());
    expect(made).toEqual([...made].sort());
    expect(new Set(made).size).toBe(made.length);
  });

  it('go on rising when the clock is set back', () => {
    const clock = fixedClock('2026-07-14T18:00:00Z');
    const ids = timedIds(clock);
    const before = ids.next();
    clock.set('2026-07-14T17:00:00Z');
    const during = Array.from({ length: 100 }, () => ids.next());
    clock.set('2026-07-14T18:00:01Z');
    const after = ids.next();
    const made = [before, ...during, after];
    expect(made).toEqual([...made].sort());
    expect(new Set(made).size).toBe(made.length);
  });

  it('are UUIDs of version 7 that begin with the instant (RFC 9562, section 5.7)', () => {
    const id = timedIds(fixedClock('2026-07-14T18:00:00.123Z')).next();
    expect(id).toMatch(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
    const instant = Number.parseInt(id.replaceAll('-', '').slice(0, 12), 16);
    expect(new Date(instant).toISOString()).toBe('2026-07-14T18:00:00.123Z');
  });

  it('differ between two processes with the same clock', () => {
    const [one, other] = [timedIds(fixedClock()), timedIds(fixedClock())];
    const made = Array.from({ length: 1_000 }, () => [one.next(), other.next()]).flat();
    expect(new Set(made).size).toBe(made.length);
  });
});
