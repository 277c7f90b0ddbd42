import { type Html, html } from '../platform/html/html.ts';

/** What a verdict comes to, at a glance. */
export type Worth = 'genuine' | 'altered' | 'cannot_tell';

/**
 * A sign beside the words of a verdict. Each has a shape of its own, so that nobody needs its color:
 * a check in a circle, a cross in a square, a question in a triangle. The words say it all.
 */
export function verdictMark(worth: Worth): Html {
  return html`<svg class="mark" viewBox="0 0 48 48" aria-hidden="true" focusable="false">${SHAPES[worth]}</svg>`;
}

const SHAPES: Record<Worth, Html> = {
  genuine: html`<circle cx="24" cy="24" r="22"/><path d="M13 25l8 8 15-17"/>`,
  altered: html`<rect x="3" y="3" width="42" height="42"/><path d="M15 15l18 18M33 15L15 33"/>`,
  cannot_tell: html`<path d="M24 3L46 45H2z"/><path d="M19 25c0-7 10-7 10-1 0 4-5 4-5 8M24 37v2"/>`,
};
