import { check, type GuardCase, unique } from '../guard-case.ts';
import { id, ids, type Row, sql } from '../rows.ts';
import {
  argon2id,
  factorRow,
  passwordRow,
  recoveryCodeRow,
  sessionRow,
  signIn,
  signInLinkRow,
} from '../sign-in-rows.ts';
import { signed, word } from './record-cases.ts';

const later = '2026-07-15T19:30:00Z';
const first: Row = { purpose: 'first_owner', staff_id: null, created_by_id: null };
const short = { token_hash: Buffer.alloc(31) };
const whole = { token_hash: Buffer.alloc(32) };

/** SQLSTATE of `refuse`: what ended is changed by nobody. */
const endSession = (set: string) =>
  sql(`UPDATE staff_session SET ${set} WHERE id = '${signIn.session}'`);
const endLink = (set: string) => sql(`UPDATE sign_in_link SET ${set} WHERE id = '${signIn.link}'`);
const setFactor = (set: string) =>
  sql(`UPDATE staff_second_factor SET ${set} WHERE id = '${signIn.factor}'`);
const endFactor = setFactor(`ended_at = '${later}', sealed_secret = NULL`);
const setCode = (set: string) =>
  sql(`UPDATE staff_recovery_code SET ${set} WHERE second_factor_id = '${signIn.factor}'`);
const begun: Row = { confirmed_at: null, last_step: null };
const confirmed = `confirmed_at = '${later}', last_step = 1`;

export const signInCases: GuardCase[] = [
  word('a password is kept as a slow hash only', 'staff_password_is_argon2id', passwordRow, {
    hash: ['seven quiet herons', argon2id],
  }),
  word('a session is shown in a known way', 'staff_session_carrier', sessionRow, {
    carrier: ['letter', 'bearer'],
  }),
  {
    title: 'a session is kept by a whole SHA-256',
    guard: 'staff_session_token_hash',
    sqlState: check,
    breaks: [sessionRow(short)],
    allows: [[sessionRow(whole)]],
  },
  word('an unused session ends within its time', 'staff_session_idle_within', sessionRow, {
    idle_until: ['2026-07-16T19:00:01Z', '2026-07-16T19:00:00Z'],
  }),
  word('a session tells its program in a few words', 'staff_session_program_is_short', sessionRow, {
    program: ['x'.repeat(61), 'x'.repeat(60)],
  }),
  word('a session is used after it began', 'staff_session_used_since_start', sessionRow, {
    used_at: ['2026-07-15T18:59:59Z', '2026-07-15T19:00:00Z'],
  }),
  {
    title: 'a session is told as what it was begun with',
    guard: 'staff_session_ends_once',
    sqlState: check,
    breaks: [endSession(`program = 'curl'`)],
    allows: [[endSession(`used_at = '${later}'`)]],
  },
  {
    title: 'a session that has ended stays ended',
    guard: 'staff_session_ends_once',
    sqlState: check,
    breaks: [endSession(`ended_at = '${later}'`), endSession('ended_at = NULL')],
    allows: [[endSession(`idle_until = '${later}'`), endSession(`ended_at = '${later}'`)]],
  },
  {
    title: 'a session stays the one person’s who signed in',
    guard: 'staff_session_ends_once',
    sqlState: check,
    breaks: [endSession(`staff_id = '${ids.owner}'`)],
    allows: [[endSession(`idle_until = '${later}'`)]],
  },
  word('a link has a known purpose', 'sign_in_link_purpose', signInLinkRow, {
    purpose: ['visit', 'new_password'],
  }),
  {
    title: 'a link is kept by a whole SHA-256',
    guard: 'sign_in_link_token_hash',
    sqlState: check,
    breaks: [signInLinkRow(short)],
    allows: [[signInLinkRow(whole)]],
  },
  {
    title: 'only the first owner’s link is nobody’s yet',
    guard: 'sign_in_link_whose',
    sqlState: check,
    breaks: [signInLinkRow({ staff_id: null })],
    allows: [[signInLinkRow(first)]],
  },
  {
    title: 'a link ends in one way',
    guard: 'sign_in_link_one_end',
    sqlState: check,
    breaks: [signInLinkRow({ used_at: later, revoked_at: later })],
    allows: [[signInLinkRow({ used_at: later })], [signInLinkRow({ revoked_at: later })]],
  },
  {
    title: 'a link is used before it is too old',
    guard: 'sign_in_link_used_in_time',
    sqlState: check,
    breaks: [signInLinkRow({ used_at: '2026-07-18T19:00:00Z' })],
    allows: [[signInLinkRow({ used_at: '2026-07-18T18:59:59Z' })]],
  },
  word('a link opens for a week at the most', 'sign_in_link_short_lived', signInLinkRow, {
    expires_at: ['2026-07-22T19:00:01Z', '2026-07-22T19:00:00Z'],
  }),
  {
    title: 'somebody has one link that opens',
    guard: 'sign_in_link_one_open',
    sqlState: unique,
    breaks: [signInLinkRow({ staff_id: ids.technician })],
    allows: [[signInLinkRow({ staff_id: ids.technician, revoked_at: later })], [signInLinkRow()]],
  },
  {
    title: 'the first owner has one link that opens',
    guard: 'sign_in_link_one_open',
    sqlState: unique,
    breaks: [signInLinkRow(first), signInLinkRow({ ...first, id: id(1_718) })],
    allows: [[signInLinkRow(first)]],
  },
  {
    title: 'a link that was used is used up',
    guard: 'sign_in_link_ends_once',
    sqlState: check,
    breaks: [endLink(`used_at = '${later}'`), endLink('used_at = NULL')],
    allows: [[endLink(`used_at = '${later}'`)], [endLink(`revoked_at = '${later}'`)]],
  },
  {
    title: 'a link stays the one person’s it was made for',
    guard: 'sign_in_link_ends_once',
    sqlState: check,
    breaks: [endLink(`staff_id = '${ids.owner}'`)],
    allows: [[endLink(`revoked_at = '${later}'`)]],
  },
  signed('sign_in_link_created_by_fkey', signInLinkRow, 'created_by_id'),
  {
    title: 'the secret of a second factor is never stored bare',
    guard: 'staff_second_factor_sealed',
    sqlState: check,
    breaks: [factorRow({ sealed_secret: Buffer.alloc(20) })],
    allows: [[factorRow()]],
  },
  {
    title: 'a second factor has its secret until it ends, and not a moment longer',
    guard: 'staff_second_factor_secret_until_end',
    sqlState: check,
    breaks: [setFactor(`ended_at = '${later}'`)],
    allows: [[endFactor]],
  },
  {
    title: 'a second factor that counts has had a code, which is used up',
    guard: 'staff_second_factor_confirmed_by_code',
    sqlState: check,
    breaks: [factorRow({ last_step: null })],
    allows: [[factorRow()], [factorRow(begun)]],
  },
  {
    title: 'somebody has one second factor',
    guard: 'staff_second_factor_one_each',
    sqlState: unique,
    breaks: [factorRow({ staff_id: ids.owner })],
    allows: [[endFactor, factorRow({ staff_id: ids.owner })], [factorRow()]],
  },
  {
    title: 'a second factor that has ended never counts again',
    guard: 'staff_second_factor_ends_once',
    sqlState: check,
    breaks: [
      endFactor,
      setFactor(`ended_at = NULL, sealed_secret = decode(repeat('00', 48), 'hex')`),
    ],
    allows: [[endFactor]],
  },
  {
    title: 'a second factor stays the one person’s who turned it on',
    guard: 'staff_second_factor_ends_once',
    sqlState: check,
    breaks: [setFactor(`staff_id = '${ids.otherTechnician}'`)],
    allows: [[setFactor('last_step = last_step + 1')]],
  },
  {
    title: 'a second factor keeps the secret it was turned on with',
    guard: 'staff_second_factor_ends_once',
    sqlState: check,
    breaks: [setFactor(`sealed_secret = decode(repeat('01', 48), 'hex')`)],
    allows: [[setFactor('last_step = last_step + 1')]],
  },
  {
    title: 'a second factor is turned on once',
    guard: 'staff_second_factor_ends_once',
    sqlState: check,
    breaks: [setFactor(`confirmed_at = '${later}'`)],
    allows: [
      [
        factorRow(begun),
        sql(`UPDATE staff_second_factor SET ${confirmed} WHERE id = '${id(1_729)}'`),
      ],
    ],
  },
  {
    title: 'a code of a second factor is good once',
    guard: 'staff_second_factor_step_grows',
    sqlState: check,
    breaks: [setFactor('last_step = last_step')],
    allows: [[setFactor('last_step = last_step + 1')]],
  },
  {
    title: 'a code of a second factor from before the last one is good no more',
    guard: 'staff_second_factor_step_grows',
    sqlState: check,
    breaks: [setFactor('last_step = last_step - 1')],
    allows: [[setFactor('last_step = last_step + 2')]],
  },
  {
    title: 'a recovery code is one of ten',
    guard: 'staff_recovery_code_place',
    sqlState: check,
    breaks: [recoveryCodeRow({ place: 10 })],
    allows: [[recoveryCodeRow({ place: 9 })]],
  },
  word(
    'a recovery code is kept as a slow hash only',
    'staff_recovery_code_is_argon2id',
    recoveryCodeRow,
    {
      hash: ['4k7m2-p9xqr', argon2id],
    },
  ),
  {
    title: 'a recovery code is good once',
    guard: 'staff_recovery_code_used_once',
    sqlState: check,
    breaks: [setCode(`used_at = '${later}'`), setCode('used_at = NULL')],
    allows: [[setCode(`used_at = '${later}'`)]],
  },
  {
    title: 'a recovery code stays what it is',
    guard: 'staff_recovery_code_used_once',
    sqlState: check,
    breaks: [setCode('place = 5')],
    allows: [[setCode(`used_at = '${later}'`)]],
  },
];
