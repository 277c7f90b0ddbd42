import { describe, expect, it } from 'vitest';
import { instantOf } from '../../src/audits/instant-of.ts';

/** PostgreSQL writes instants in JSON by ISO 8601, with the offset of the session and its microseconds. */
describe('an instant as the database writes it in JSON', () => {
  it.each([
    ['2026-05-04T16:10:00+00:00', '2026-05-04T16:10:00.000Z'],
    ['2026-05-04T16:10:00.5+00:00', '2026-05-04T16:10:00.500Z'],
    ['2026-05-04T16:10:00.123+00:00', '2026-05-04T16:10:00.123Z'],
    ['2026-05-04T16:10:00.123987+00:00', '2026-05-04T16:10:00.123Z'],
    ['2026-05-04T16:10:00.05+00:00', '2026-05-04T16:10:00.050Z'],
    ['2026-05-04T16:10:00-05:00', '2026-05-04T21:10:00.000Z'],
    ['2026-05-04T16:10:00.25-05:00', '2026-05-04T21:10:00.250Z'],
    ['+012026-05-04T16:10:00+00:00', '+012026-05-04T16:10:00.000Z'],
    ['2026-05-04T21:40:00+05:30', '2026-05-04T16:10:00.000Z'],
  ])('%s is %s', (text, instant) => {
    expect(instantOf(text)).toBe(instant);
    expect(new Date(text).toISOString()).toBe(instant);
  });
});
