import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

/** Where Debian, Ubuntu and others put it; `CHROMIUM` names another place. */
const PLACES = [
  process.env['CHROMIUM'],
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

/**
 * A browser without a window.
 * @throws Error when none is installed: a missing browser is no reason to call these tests passed
 */
export async function openBrowser(): Promise<Browser> {
  const executablePath = PLACES.find((place) => place !== undefined && existsSync(place));
  if (executablePath === undefined) {
    throw new Error('No browser: install chromium, or name one in CHROMIUM.');
  }
  return chromium.launch({ executablePath, args: ['--no-sandbox', '--disable-dev-shm-usage'] });
}
