import { hashOfToken } from '../../../src/platform/access/token.ts';
import { codeApp } from '../../harness/code-app.ts';
import { expectStatus } from '../../harness/test-service.ts';
import { bearerOf, goodPassword, invite, join, post } from '../../sign-in/people.ts';
import { turnOn, type WithFactor } from '../../sign-in/turn-on.ts';
import type { Prepared, Recipe, World } from '../world.ts';

const invited = async ({ service }: World): Promise<Prepared> => ({
  params: { staffId: (await invite(service)).staffId },
});

/** As if those who tried too often had waited: here the clock stands still. */
async function forgetTries({ service }: World): Promise<void> {
  await service.owner.query('DELETE FROM sign_in_pace');
}

/** Another owner with a password, signed in. */
async function signedIn(world: World): Promise<Prepared> {
  await forgetTries(world);
  const person = await join(world.service, { role: 'owner' });
  const { authorization } = await bearerOf(world.service, person);
  return { ownerToken: authorization.replace('Bearer ', '') };
}

/** Another owner, whose second factor is on. */
async function withFactor(world: World): Promise<WithFactor> {
  await forgetTries(world);
  return turnOn(world.service, await join(world.service, { role: 'owner' }));
}

/** The first code of a second factor that was begun. */
async function firstCode({ service }: World, ownerToken = ''): Promise<string> {
  const session = { authorization: `Bearer ${ownerToken}` };
  const sent = { password: goodPassword };
  const begun = await post(service, '/v1/second-factor/begin', sent, session);
  return codeApp(expectStatus(begun, 200).body.uri)(service.clock.now());
}

/** The session by which somebody came in. */
async function sessionOf({ service }: World, ownerToken = ''): Promise<string> {
  const found = await service.owner.query<{ id: string }>(
    'SELECT id FROM staff_session WHERE token_hash = $1',
    [hashOfToken(ownerToken)],
  );
  return found.rows[0]?.id ?? '';
}

/** Who is let in, and who is shut out. */
export const peopleRecipes: Readonly<Record<string, Recipe>> = {
  inviteStaff: async ({ next }) => ({
    body: { name: 'Ilse Farrow', role: 'technician', email: `ilse-${next()}@example.com` },
  }),
  signIn: async (world) => {
    await forgetTries(world);
    const { email, password } = await world.once('person', () => join(world.service));
    return { body: { email, password } };
  },
  useSignInLink: async (world) => {
    await forgetTries(world);
    const { token } = await invite(world.service);
    return { body: { token, password: goodPassword } };
  },
  signOut: signedIn,
  signOutEverywhere: signedIn,
  endOwnSession: async (world) => {
    const prepared = await signedIn(world);
    return {
      ...prepared,
      params: { sessionId: await sessionOf(world, prepared.ownerToken) },
      body: { password: goodPassword },
    };
  },
  changePassword: async (world) => ({
    ...(await signedIn(world)),
    body: { password: goodPassword, newPassword: 'eight loud geese over the weir' },
  }),
  beginSecondFactor: async (world) => ({
    ...(await signedIn(world)),
    body: { password: goodPassword },
  }),
  confirmSecondFactor: async (world) => {
    const prepared = await signedIn(world);
    return { ...prepared, body: { code: await firstCode(world, prepared.ownerToken) } };
  },
  removeOwnSecondFactor: async (world) => {
    const { session, recoveryCodes } = await withFactor(world);
    return {
      ownerToken: session.authorization.replace('Bearer ', ''),
      body: { password: goodPassword, code: recoveryCodes[0] },
    };
  },
  removeSecondFactor: async (world) => ({
    params: { staffId: (await withFactor(world)).staffId },
  }),
  renewSignInLink: invited,
  disableStaff: invited,
  enableStaff: async (world) => {
    const prepared = await invited(world);
    const path = `/v1/staff/${prepared.params?.['staffId']}/disable`;
    expectStatus(await world.service.as('owner').post(path), 200);
    return prepared;
  },
};
