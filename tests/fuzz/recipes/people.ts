import { expectStatus } from '../../harness/test-service.ts';
import { bearerOf, goodPassword, invite, join } from '../../sign-in/people.ts';
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
  changePassword: async (world) => ({
    ...(await signedIn(world)),
    body: { password: goodPassword, newPassword: 'eight loud geese over the weir' },
  }),
  renewSignInLink: invited,
  disableStaff: invited,
  enableStaff: async (world) => {
    const { params } = await invited(world);
    const path = `/v1/staff/${params?.['staffId']}/disable`;
    expectStatus(await world.service.as('owner').post(path), 200);
    return { params };
  },
};
