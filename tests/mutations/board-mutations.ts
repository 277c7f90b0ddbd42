import type { Mutation } from './mutation.ts';

const follow = 'tests/board/follow-board.test.ts';
const follower = 'tests/board/follower.test.ts';
const board = 'tests/board/board.test.ts';
const danger = 'tests/board/open-danger.test.ts';
const told = 'tests/board/who-is-told.test.ts';
const buffers = 'tests/board/stream-buffers.test.ts';
const drops = 'tests/board/dropped-clients.test.ts';
const places = 'tests/board/keep-places.test.ts';
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
  {
    breaks: 'whoever is on the way into a danger is not told of it',
    file: 'src/board/read-events.ts',
    find: 'SELECT site_id FROM ticket WHERE id = told."ticketId"',
    replace: 'SELECT site_id FROM ticket WHERE false',
    caughtBy: { file: danger, name: 'reaches the technician who' },
    database: true,
  },
  {
    breaks: 'a danger that was told on another call from the same home is on nobody’s visit',
    file: 'src/phone-checks/open-dangers-at-site.ts',
    find: 'WHERE of.site_id = s.id AND',
    replace: 'WHERE of.id = t.id AND',
    caughtBy: { file: danger, name: 'reaches whoever is sent to the same home for another ticket' },
    database: true,
  },
  {
    breaks: 'a danger stays on the visit when it is over',
    file: 'src/phone-checks/open-dangers-at-site.ts',
    find: 'AND told.danger_over_at IS NULL',
    replace: '',
    caughtBy: { file: danger, name: 'and again when it is over' },
    database: true,
  },
  {
    breaks: 'whoever goes along with another is not told of it',
    file: 'src/board/read-events.ts',
    find: 'return [technicianId, helperId].flatMap(',
    replace: 'return [technicianId].flatMap(',
    caughtBy: { file: told, name: 'are told to both where one goes along with the other' },
    database: true,
  },
  {
    breaks: 'how fast trucks drive is told to the office alone',
    file: 'src/board/board-events.ts',
    find: "'dispatch_policy.changed': 'everybody',",
    replace: "'dispatch_policy.changed': 'office',",
    caughtBy: { file: told, name: 'is told to everybody' },
    database: true,
  },
  {
    breaks: 'one person’s streams take every place',
    file: 'src/board/keep-places.ts',
    find: 'own.length >= followersOfOneMax ? own[0] : undefined',
    replace: 'own.length >= Number.POSITIVE_INFINITY ? own[0] : undefined',
    caughtBy: { file: places, name: 'of one person are so many' },
  },
  {
    breaks: 'technicians take the places of the office',
    file: 'src/board/keep-places.ts',
    find: 'return technicians >= followersMax - officePlaces;',
    replace: 'return technicians >= followersMax;',
    caughtBy: { file: places, name: 'are kept for the office in part' },
  },
  {
    breaks: 'a calendar says nothing of a danger that is not over',
    file: 'src/calendars/write-calendar.ts',
    find: 'visit.mustCallOffice ?',
    replace: 'visit.version < 0 ?',
    caughtBy: { file: calendar, name: 'says first of all to call the office' },
  },
  {
    breaks: 'each look of the stream reads the whole journal',
    file: 'src/board/read-events.ts',
    find: 'WHERE j.position > $1::bigint ORDER BY j.position LIMIT $2',
    replace: 'WHERE j.position::float8 > $1 ORDER BY j.position::float8 LIMIT $2',
    caughtBy: { file: buffers, name: 'as many pages beside much of the past' },
    database: true,
  },
  {
    breaks: 'a change of a customer looks through every home there is',
    file: 'src/board/read-events.ts',
    find: "WHERE occupant_id = CASE WHEN e.event = 'customer.changed' THEN e.subject_id::uuid END",
    replace:
      "WHERE occupant_id::text = CASE WHEN e.event = 'customer.changed' THEN e.subject_id END",
    caughtBy: { file: buffers, name: 'as many pages beside much of the past' },
    database: true,
  },
  {
    breaks: 'a change of a home looks through every ticket that ever was there',
    file: 'src/board/read-events.ts',
    find: "AND t.state NOT IN ('closed', 'resolved_by_phone', 'cancelled')",
    replace: '',
    caughtBy: { file: buffers, name: 'as many pages beside much of the past' },
    database: true,
  },
  {
    breaks: 'whoever comes back is not told the next change',
    file: 'src/board/board-feed.ts',
    find: 'after: isKnown ? after : now.head,',
    replace: 'after: isKnown ? after + 1 : now.head,',
    caughtBy: { file: drops, name: 'is told each change once and in order' },
    database: true,
  },
];
