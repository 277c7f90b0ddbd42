import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { words } from '../../src/sign-in-pages/words.ts';
import { codeApp } from '../harness/code-app.ts';
import { createTestService, type TestService } from '../harness/test-service.ts';
import { goodPassword, invite, join, sendSignIn } from '../sign-in/people.ts';
import { turnOn } from '../sign-in/turn-on.ts';
import { expectReadable, openIn, type Way, ways } from './look-at-page.ts';
import { openBrowser } from './open-browser.ts';

let service: TestService;
let browser: Browser;
beforeAll(async () => {
  service = await createTestService();
  browser = await openBrowser();
});
afterAll(async () => {
  await browser.close();
  await service.close();
});

function baseUrl(): string {
  const address = service.app.server.address();
  if (address === null || typeof address === 'string') throw new Error('no port is open');
  return `http://127.0.0.1:${address.port}`;
}

/** From the invitation to a sign-in with a code, with a look at each page on the way. */
async function comeIn(page: Page, { lang }: Way, look: (page: Page) => Promise<void>) {
  const { email, token } = await invite(service, { role: 'dispatcher' });
  const own = words[lang];
  const press = (button: string) => page.click(`button:text-is("${button}")`);
  const isAt = (path: string) => expect(new URL(page.url()).pathname).toBe(path);

  await page.goto(`${baseUrl()}/sign-in?lang=${lang}`);
  await page.goto(`${baseUrl()}/set-password/${token}`);
  isAt('/set-password');
  await look(page);
  await page.fill('#password', 'too short');
  await page.fill('#again', 'too short');
  await press(own.setPassword.button);
  expect(await page.textContent('#trouble')).toBe(own.troubles.too_short);
  await look(page);
  await page.fill('#password', goodPassword);
  await page.fill('#again', goodPassword);
  await press(own.setPassword.button);
  isAt('/sign-in');
  await look(page);

  await page.fill('#email', email);
  await page.fill('#password', goodPassword);
  await press(own.signIn.button);
  isAt('/account');
  await look(page);

  await page.click(`a:text-is("${own.account.turnOn}")`);
  isAt('/account/second-factor');
  await look(page);
  await page.fill('#password', goodPassword);
  await press(own.factor.begin);
  await look(page);
  const app = codeApp((await page.getAttribute('a[href^="otpauth:"]', 'href')) ?? '');
  await page.fill('#code', app(service.clock.now()));
  await press(own.factor.confirm);
  expect(await page.locator('.codes li').count()).toBe(10);
  await look(page);
  await page.click(`a:text-is("${own.factor.done}")`);
  isAt('/account');
  await page.click(`a:text-is("${own.account.change}")`);
  await look(page);

  await page.goto(`${baseUrl()}/account`);
  await look(page);
  await press(own.account.signOut);
  isAt('/sign-in');
  service.clock.advance(60_000);
  const signIn = async (code: string) => {
    await page.fill('#email', email);
    await page.fill('#password', goodPassword);
    await page.fill('#code', code);
    await press(own.signIn.button);
  };
  await signIn('');
  expect(await page.textContent('#trouble')).toBe(own.troubles.code_needed);
  expect(await page.inputValue('#email')).toBe(email);
  await look(page);
  await signIn(app(service.clock.now()));
  isAt('/account');
  expect(await page.textContent('main')).toContain(own.account.on(10));
}

describe.each(ways)('at $width px, $scheme, in $lang', (way) => {
  it('an invitation leads to a sign-in with a code, by pages that everybody can read and use', async () => {
    await openIn(browser, way, (page) => comeIn(page, way, expectReadable));
  });
});

/** Signed in at two windows, somebody ends the one at the other, with a look at each page. */
async function endTheOther(page: Page, { lang }: Way, look: (page: Page) => Promise<void>) {
  const person = await join(service);
  await sendSignIn(service, person, { carrier: 'cookie' });
  const own = words[lang];
  await page.goto(`${baseUrl()}/sign-in?lang=${lang}`);
  await page.fill('#email', person.email);
  await page.fill('#password', person.password);
  await page.click(`button:text-is("${own.signIn.button}")`);
  expect(await page.locator('.lines li').count()).toBe(2);
  expect(await page.textContent('.lines li')).toContain(own.sessions.thisOne);
  await look(page);
  await page.click(`a:text-is("${own.sessions.end}")`);
  await look(page);
  const { href } = new URL(page.url());
  await page.fill('#password', person.password);
  await page.click(`button:text-is("${own.sessions.end}")`);
  expect(new URL(page.url()).pathname).toBe('/account');
  expect(await page.locator('.lines li').count()).toBe(1);
  await page.goto(href);
  expect(await page.textContent('h1')).toBe(own.sessions.over.title);
  await look(page);
}

describe.each(ways)('at $width px, $scheme, in $lang', (way) => {
  it('somebody signs out of another place, by pages that everybody can read and use', async () => {
    await openIn(browser, way, (page) => endTheOther(page, way, expectReadable));
  });
});

/** From the account to another password, with a look at each page on the way. */
async function changeIt(page: Page, { lang }: Way, look: (page: Page) => Promise<void>) {
  const person = await turnOn(service, await join(service, { role: 'owner' }));
  service.clock.advance(60_000);
  const own = words[lang];
  const signIn = async (password: string) => {
    await page.fill('#email', person.email);
    await page.fill('#password', password);
    await page.fill('#code', person.app(service.clock.now()));
    await page.click(`button:text-is("${own.signIn.button}")`);
    expect(new URL(page.url()).pathname).toBe('/account');
    service.clock.advance(60_000);
  };
  await page.goto(`${baseUrl()}/sign-in?lang=${lang}`);
  await signIn(person.password);
  await page.click(`a:text-is("${own.changePassword.button}")`);
  await look(page);
  const newPassword = 'nine brass kettles in the orchard';
  const change = async (code: string) => {
    await page.fill('#password', person.password);
    await page.fill('#newPassword', newPassword);
    await page.fill('#again', newPassword);
    await page.fill('#code', code);
    await page.click(`button:text-is("${own.changePassword.button}")`);
  };
  await change('abc');
  expect(await page.textContent('#trouble')).toBe(own.troubles.wrong_code);
  await look(page);
  await change(person.app(service.clock.now()));
  expect(await page.textContent('[role=status]')).toBe(own.signIn.passwordChanged);
  await look(page);
  service.clock.advance(60_000);
  await signIn(newPassword);
}

describe.each(ways)('at $width px, $scheme, in $lang', (way) => {
  it('another password is chosen, by pages that everybody can read and use', async () => {
    await openIn(browser, way, (page) => changeIt(page, way, expectReadable));
  });
});

const phone: Way = { width: 360, scheme: 'light', lang: 'en' };

describe('a browser that runs no script', () => {
  it('comes in all the same, and no address on the way holds the token of a link', async () => {
    await openIn(
      browser,
      phone,
      (page) =>
        comeIn(page, phone, async (each) => {
          expect(each.url()).not.toMatch(/[\w-]{43}/);
        }),
      false,
    );
  });
});

describe('a page where a link opens nothing', () => {
  it('can be read by everybody', async () => {
    await openIn(browser, phone, async (page) => {
      await page.goto(`${baseUrl()}/set-password/nothing`);
      expect(await page.textContent('h1')).toBe(words.en.setPassword.dead.title);
      await expectReadable(page);
    });
  });
});
