import type { Mutation } from './mutation.ts';

const follow = 'tests/board/follow-board.test.ts';
const follower = 'tests/board/follower.test.ts';
const board = 'tests/board/board.test.ts';
const calendars = 'tests/calendars/calendars.test.ts';
const calendar = 'tests/calendars/write-calendar.test.ts';

/** Mistakes in what the board shows and tells, and in whose calendar reads what. */
export const boardMutations: readonly Mutation[] = [
  {
    breaks: 'of several changes at once a client is told the first alone',
    file: 'src/board/follower.ts',
    find: 'place = event?.position ?? head;',
    replace: 'place = head;',
    caughtBy: { file: follower, name: 'is not dropped for being slow' },
  },
  {
    breaks: 'a client that fell behind what is kept goes on with a gap',
    file: 'src/board/follower.ts',
    find: 'if (place < keptFrom) return void stream.destroy();',
    replace: '',
    caughtBy: { file: follower, name: 'fell behind all that is kept is dropped' },
  },
  {
    breaks: 'a technician is told of everybody’s visits',
    file: 'src/board/follower.ts',
    find: 'technicianId === undefined || technicianIds.includes(technicianId)',
    replace: 'technicianId !== "" || technicianIds.length >= 0',
    caughtBy: { file: follow, name: 'is told of own visits alone' },
    database: true,
  },
  {
    breaks: 'who is too far behind is told from the middle on, as if nothing were missing',
    file: 'src/board/board-feed.ts',
    find: 'mustReload: !isKnown,',
    replace: 'mustReload: after === undefined,',
    caughtBy: { file: follow, name: 'too far behind reads the board again' },
    database: true,
  },
  {
    breaks: 'a token that was revoked goes on being told',
    file: 'src/platform/http/mount.ts',
    find: 'if (error instanceof ProblemError) events.destroy();',
    replace: 'if (!(error instanceof Error)) events.destroy();',
    caughtBy: { file: follow, name: 'ends a stream whose token was revoked' },
    database: true,
  },
  {
    breaks: 'another phone of a household is said to nobody',
    file: 'src/board/board-events.ts',
    find: "'customer.changed': 'household',",
    replace: "'customer.changed': null,",
    caughtBy: { file: board, name: 'each act that changes what is shown is told' },
    database: true,
  },
  {
    breaks: 'work after midnight stands on two boards',
    file: 'src/board/board-of.ts',
    find: 'if (isWithin(planned.start, hoursBefore)) return false;',
    replace: '',
    caughtBy: { file: board, name: 'has the work after midnight where the night shift began' },
    database: true,
  },
  {
    breaks: 'a calendar that was revoked is still read',
    file: 'src/calendars/serves-calendars.ts',
    find: 'feed === null || feed.revokedAt !== null ||',
    replace: 'feed === null ||',
    caughtBy: { file: calendars, name: 'is worth nothing once it is revoked' },
    database: true,
  },
  {
    breaks: 'a street with a line break in it begins a line of the calendar',
    file: 'src/calendars/write-calendar.ts',
    find: "return parts.map(oneLine).join(', ');",
    replace: "return parts.join('\\u2028');",
    caughtBy: { file: calendar, name: 'has no line that is too long' },
  },
];
