import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { expect } from 'vitest';

const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** How a page is looked at. */
export interface Way {
  width: number;
  scheme: 'light' | 'dark';
  lang: 'en' | 'es';
}

/** A phone and a desk, by day and by night, in both languages. */
export const ways = [360, 1280].flatMap((width) =>
  (['light', 'dark'] as const).flatMap((scheme) =>
    (['en', 'es'] as const).map((lang): Way => ({ width, scheme, lang })),
  ),
);

/** Opens a window in one of the ways, and closes it again. */
export async function openIn<T>(
  browser: Browser,
  { width, scheme }: Way,
  look: (page: Page, context: BrowserContext) => Promise<T>,
  javaScriptEnabled = true,
): Promise<T> {
  const context = await browser.newContext({
    viewport: { width, height: 780 },
    colorScheme: scheme,
    javaScriptEnabled,
  });
  try {
    return await look(await context.newPage(), context);
  } finally {
    await context.close();
  }
}

interface AxeNode {
  html: string;
  failureSummary?: string;
}

/** What the accessibility rules of WCAG 2.2, A and AA, and good practice have against a page. */
async function violationsOf(page: Page): Promise<string[]> {
  await page.evaluate(axe);
  const found = await page.evaluate<{ violations: { id: string; nodes: AxeNode[] }[] }>(
    `axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })`,
  );
  return found.violations.flatMap(({ id, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary ?? ''}`),
  );
}

/** How far the page is wider than its window; anything above nothing has to be scrolled sideways. */
export async function overflowOf(page: Page): Promise<number> {
  return page.evaluate<number>('document.documentElement.scrollWidth - window.innerWidth');
}

/** What a thumb has to hit: the lowest of everything that is pressed, links in sentences apart. */
async function lowestTargetPx(page: Page): Promise<number> {
  return page.evaluate<number>(
    `Math.min(...[...document.querySelectorAll('button, summary, input:not([type=hidden]):not([type=checkbox]), textarea, .check label, .to-answer a')]
      .map((each) => each.getBoundingClientRect().height).filter((height) => height > 0))`,
  );
}

/** Fails unless everybody can read a page and press what is on it. */
export async function expectReadable(page: Page): Promise<void> {
  expect(await violationsOf(page)).toEqual([]);
  expect(await overflowOf(page)).toBeLessThanOrEqual(0);
  expect(await lowestTargetPx(page)).toBeGreaterThanOrEqual(44);
}
