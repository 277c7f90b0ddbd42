import { lineVolts, type PointWords, range } from './point.ts';

const acrossClosed = range(0, 600, 0.01, 5);

/** From the panel to the machine. Ranges: common practice, no source. */
export const powerPoints = {
  line_supply: {
    name: 'line voltage at the unit',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: lineVolts },
  },
  disconnect_line_side: {
    name: 'line side of the disconnect',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: lineVolts },
  },
  disconnect_fuse_1: {
    name: 'first fuse of the disconnect, from end to end',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: acrossClosed },
  },
  disconnect_fuse_2: {
    name: 'second fuse of the disconnect, from end to end',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: acrossClosed },
  },
  breaker: {
    name: 'closed breaker, from line to load side',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: acrossClosed },
  },
  breaker_marking: {
    name: 'rating marked on the breaker',
    on: 'any',
    scope: 'machine',
    ranges: { current: range(10, 400, 15, 60) },
  },
  line_connection: {
    name: 'line connection, from wire to terminal',
    on: 'any',
    scope: 'machine',
    ranges: { voltage: acrossClosed },
  },
} as const satisfies Record<string, PointWords>;
