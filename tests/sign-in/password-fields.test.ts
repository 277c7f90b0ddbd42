import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createTestService, type TestService } from '../harness/test-service.ts';
import { invite, join } from './people.ts';
import { visitor } from './visitor.ts';

let service: TestService;
beforeAll(async () => {
  service = await createTestService({ withPriceBook: false });
});
afterAll(() => service.close());

/** The pages at which a password is typed, and what a browser may fill in there. */
const pages = [
  { path: '/sign-in', fills: ['current-password'] },
  { path: '/set-password', fills: ['new-password', 'new-password'] },
  { path: '/account/second-factor', fills: ['current-password'] },
  { path: '/account/password', fills: ['current-password', 'new-password', 'new-password'] },
];

/** The fields that take one. */
const secrets: ReadonlySet<string> = new Set(['password', 'newPassword', 'again']);

async function textOfPage(path: string): Promise<string> {
  const browser = visitor(service);
  if (path === '/set-password') {
    const { token } = await invite(service);
    await browser.get(`/set-password/${token}`);
  }
  if (path.startsWith('/account')) {
    const { email, password } = await join(service, { role: 'owner' });
    await browser.send('/sign-in', { email, password, code: '' });
  }
  const page = await browser.get(path);
  expect(page.status, path).toBe(200);
  return page.text;
}

/** Each field that is typed into, by its attributes. */
function fieldsOf(page: string): Record<string, string>[] {
  const inputs = [...page.matchAll(/<input ([^>]*)>/g)].map(([, attributes = '']) =>
    Object.fromEntries(
      [...attributes.matchAll(/([\w-]+)(?:="([^"]*)")?/g)].map(([, name, value = '']) => [
        name,
        value,
      ]),
    ),
  );
  return inputs.filter(({ type }) => type !== 'hidden');
}

describe('a password at a page (OWASP ASVS 5.0, 6.2.6 and 6.2.7)', () => {
  it.each(pages)(
    'is hidden as it is typed, and may be pasted or filled in: $path',
    async ({ path, fills }) => {
      const fields = fieldsOf(await textOfPage(path)).filter(({ autocomplete }) =>
        autocomplete?.endsWith('-password'),
      );
      expect(fields.map(({ autocomplete }) => autocomplete)).toEqual(fills);
      for (const field of fields) {
        expect(field).toMatchObject({ type: 'password' });
        for (const limit of ['readonly', 'maxlength', 'minlength', 'pattern', 'onpaste', 'value']) {
          expect(field).not.toHaveProperty(limit);
        }
      }
    },
  );

  it.each(pages)('is typed into no other field: $path', async ({ path }) => {
    for (const { name, type } of fieldsOf(await textOfPage(path))) {
      expect(type === 'password', name).toBe(secrets.has(name ?? ''));
    }
  });
});

describe('whoever is signed in (OWASP ASVS 5.0, 7.4.4)', () => {
  it('finds the button that signs out at the account', async () => {
    const page = await textOfPage('/account');
    expect(page).toMatch(/<form [^>]*method="post" action="\/account\/sign-out">/);
    expect(page).toMatch(/<form [^>]*method="post" action="\/account\/sign-out-everywhere">/);
  });

  it.each(['/account/second-factor', '/account/password'])(
    'finds the way there at %s',
    async (path) => {
      expect(await textOfPage(path)).toContain('href="/account"');
    },
  );
});
