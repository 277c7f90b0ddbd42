import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { cutPage, pageOf, pageQuery, startAfter } from '../platform/http/page.ts';
import { act, entrance, type Route, read } from '../platform/http/route.ts';
import { beginSecondFactor } from './begin-second-factor.ts';
import { changePassword } from './change-password.ts';
import { confirmSecondFactor } from './confirm-second-factor.ts';
import {
  beginSecondFactorSchema,
  begunSecondFactorSchema,
  changePasswordSchema,
  confirmedSecondFactorSchema,
  confirmSecondFactorSchema,
  endSessionSchema,
  invitationSchema,
  inviteSchema,
  meSchema,
  passwordSetSchema,
  removeSecondFactorSchema,
  secondFactorStateSchema,
  sessionSchema,
  signedInSchema,
  signedOutSchema,
  signInSchema,
  staffAccessSchema,
  useLinkSchema,
} from './contract.ts';
import { disableStaff } from './disable-staff.ts';
import { enableStaff } from './enable-staff.ts';
import { endOwnSession } from './end-own-session.ts';
import { inviteStaff } from './invite-staff.ts';
import { listOwnSessions } from './list-own-sessions.ts';
import { factorRoles } from './may-have-factor.ts';
import { readMe } from './read-me.ts';
import { removeOwnSecondFactor } from './remove-own-second-factor.ts';
import { removeSecondFactor } from './remove-second-factor.ts';
import { renewLink } from './renew-link.ts';
import { signIn } from './sign-in.ts';
import { signOut } from './sign-out.ts';
import { listAccess } from './staff-access.ts';
import { useLink } from './use-link.ts';

const tag = 'sign-in';

export const signInRoutes: readonly Route[] = [
  entrance({
    operationId: 'signIn',
    summary: 'Sign in with e-mail and password, and a code where the second factor is on',
    description:
      'Each sign-in begins a session of its own; with a cookie it ends the session whose cookie the ' +
      'browser still shows. An unknown e-mail and a wrong password are answered ' +
      'alike. Where they are right and a code is missing or wrong, the problem says `codeNeeded`: ' +
      'send all three. Owners and dispatchers sign in every day, and anew after an hour away; technicians ' +
      'every thirty days, and anew after seven days away.',
    tag,
    path: '/v1/sign-in',
    access: 'public',
    body: signInSchema,
    response: signedInSchema,
    problems: ['unauthenticated', 'too-many-tries', 'unavailable'],
    handle: (context, { body }) => signIn(context, body),
  }),
  entrance({
    operationId: 'useSignInLink',
    summary: 'Set the password at a link that the owner made, or that the first start printed',
    tag,
    path: '/v1/sign-in-links/use',
    access: 'public',
    body: useLinkSchema,
    response: passwordSetSchema,
    problems: ['not-found', 'already-exists', 'too-many-tries'],
    handle: (context, { body }) => useLink(context, body),
  }),
  entrance({
    operationId: 'signOut',
    summary: 'End this session',
    description: 'The token of a program is no session; it is not ended by this.',
    tag,
    path: '/v1/sign-out',
    access: anyStaff,
    response: signedOutSchema,
    handle: (context) => signOut(context, { everywhere: false }),
  }),
  entrance({
    operationId: 'signOutEverywhere',
    summary: 'End all own sessions: a phone was lost, or a password seen',
    tag,
    path: '/v1/sign-out-everywhere',
    access: anyStaff,
    response: signedOutSchema,
    handle: (context) => signOut(context, { everywhere: true }),
  }),
  read({
    operationId: 'listOwnSessions',
    summary: 'Where one is signed in, the newest first',
    description:
      'Sessions that still open something. There may be as many at once as one likes; each ends by ' +
      'itself. Tokens of programs are no sessions.',
    tag,
    path: '/v1/me/sessions',
    access: anyStaff,
    isBeforeSetUp: true,
    query: z.strictObject(pageQuery),
    response: pageOf(sessionSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => {
      const filter = { list: 'own-sessions' };
      const after = startAfter(query.cursor, filter);
      const rows = await listOwnSessions(context, { after, take: query.limit + 1 });
      return { body: cutPage(rows, query.limit, filter) };
    },
  }),
  entrance({
    operationId: 'endOwnSession',
    summary:
      'End one of the own sessions: on a phone that was lost, or a computer of somebody else',
    description: 'It needs the password. One that is over already is answered like one of nobody.',
    tag,
    path: '/v1/me/sessions/:sessionId/end',
    access: anyStaff,
    params: idParam('sessionId'),
    body: endSessionSchema,
    response: signedOutSchema,
    problems: ['not-allowed-now', 'too-many-tries'],
    handle: (context, { params, body }) => endOwnSession(context, params.sessionId, body),
  }),
  entrance({
    operationId: 'changePassword',
    summary: 'Change the own password, and sign out everywhere',
    description:
      'It needs the present password, and a code where the second factor is on. Where only the code ' +
      'is missing or wrong, the problem says `codeNeeded`: send all again.',
    tag,
    path: '/v1/change-password',
    access: anyStaff,
    body: changePasswordSchema,
    response: signedOutSchema,
    problems: ['not-allowed-now', 'too-many-tries', 'unavailable'],
    handle: (context, { body }) => changePassword(context, body),
  }),
  entrance({
    operationId: 'beginSecondFactor',
    summary: 'Make the secret for an app that shows codes (RFC 6238)',
    description:
      'It counts only when a code of it is given. Until then it may be begun again, and the secret ' +
      'of before is worth nothing.',
    tag,
    path: '/v1/second-factor/begin',
    access: factorRoles,
    body: beginSecondFactorSchema,
    response: begunSecondFactorSchema,
    problems: ['not-allowed-now', 'too-many-tries'],
    handle: (context, { body }) => beginSecondFactor(context, body),
  }),
  entrance({
    operationId: 'confirmSecondFactor',
    summary: 'Turn the second factor on with a first code, and get the recovery codes',
    description: 'All other own sessions end: they began without a code.',
    tag,
    path: '/v1/second-factor/confirm',
    access: factorRoles,
    body: confirmSecondFactorSchema,
    response: confirmedSecondFactorSchema,
    problems: ['not-allowed-now', 'too-many-tries', 'unavailable'],
    handle: (context, { body }) => confirmSecondFactor(context, body),
  }),
  entrance({
    operationId: 'removeOwnSecondFactor',
    summary: 'Take the own second factor away: for another phone, or for good',
    tag,
    path: '/v1/second-factor/remove',
    access: factorRoles,
    body: removeSecondFactorSchema,
    response: secondFactorStateSchema,
    problems: ['not-allowed-now', 'too-many-tries', 'unavailable'],
    handle: (context, { body }) => removeOwnSecondFactor(context, body),
  }),
  read({
    operationId: 'getMe',
    summary: 'Who is signed in',
    tag,
    path: '/v1/me',
    access: anyStaff,
    isBeforeSetUp: true,
    response: meSchema,
    handle: async (context) => ({ body: await readMe(context) }),
  }),
  act({
    operationId: 'inviteStaff',
    summary: 'Add somebody to the staff, and make the link by which they set their password',
    tag,
    method: 'POST',
    path: '/v1/staff',
    access: ['owner'],
    isBeforeSetUp: true,
    body: inviteSchema,
    response: invitationSchema,
    status: 201,
    problems: ['already-exists'],
    repeated: (body) => ({ ...body, token: null }),
    handle: async (context, { body }) => ({ body: await inviteStaff(context, body) }),
  }),
  read({
    operationId: 'listStaffAccess',
    summary: 'Who can sign in and who cannot, those who have left among them',
    tag,
    path: '/v1/staff-access',
    access: ['owner'],
    isBeforeSetUp: true,
    query: z.strictObject(pageQuery),
    response: pageOf(staffAccessSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma, now }, { query }) => {
      const filter = { list: 'staff-access' };
      const after = startAfter(query.cursor, filter);
      const rows = await listAccess(prisma, now, { after, take: query.limit + 1 });
      return { body: cutPage(rows, query.limit, filter) };
    },
  }),
  act({
    operationId: 'renewSignInLink',
    summary: 'Make another link: theirs is too old, or they forgot their password',
    tag,
    method: 'POST',
    path: '/v1/staff/:staffId/sign-in-link',
    access: ['owner'],
    isBeforeSetUp: true,
    params: idParam('staffId'),
    response: invitationSchema,
    status: 201,
    problems: ['not-allowed-now'],
    repeated: (body) => ({ ...body, token: null }),
    handle: async (context, { params }) => ({ body: await renewLink(context, params.staffId) }),
  }),
  act({
    operationId: 'disableStaff',
    summary: 'Shut somebody out who has left, at once',
    tag,
    method: 'POST',
    path: '/v1/staff/:staffId/disable',
    access: ['owner'],
    isBeforeSetUp: true,
    params: idParam('staffId'),
    response: staffAccessSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => ({ body: await disableStaff(context, params.staffId) }),
  }),
  act({
    operationId: 'enableStaff',
    summary: 'Let somebody in again who was shut out',
    tag,
    method: 'POST',
    path: '/v1/staff/:staffId/enable',
    access: ['owner'],
    isBeforeSetUp: true,
    params: idParam('staffId'),
    response: staffAccessSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => ({ body: await enableStaff(context, params.staffId) }),
  }),
  act({
    operationId: 'removeSecondFactor',
    summary: 'Take the second factor of somebody away whose phone and recovery codes are gone',
    description: 'Their sessions end. The own one is removed with the password and a code.',
    tag,
    method: 'POST',
    path: '/v1/staff/:staffId/remove-second-factor',
    access: ['owner'],
    isBeforeSetUp: true,
    params: idParam('staffId'),
    response: staffAccessSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => ({
      body: await removeSecondFactor(context, params.staffId),
    }),
  }),
];
