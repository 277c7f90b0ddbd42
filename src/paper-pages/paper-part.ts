import { withPhone } from '../page-frame/index.ts';
import { type Html, html } from '../platform/html/html.ts';
import type { IssuedPaper } from './issued-papers.ts';
import { type ToldTo, toldPaper } from './told-paper.ts';

/** One paper on a page: its name, what became of it, and what must stand on it. */
export function paperPart(paper: IssuedPaper, to: ToldTo): Html {
  const { name, facts, stands } = toldPaper(paper, to);
  const { phone } = to.company;
  return html`<section class="issued" aria-labelledby="paper-${paper.kind}">
<h2 id="paper-${paper.kind}">${name}</h2>
<p class="stands"><strong>${stands.word}.</strong> ${withPhone(() => stands.text, phone)}</p>
<dl>${facts.map(({ label, value }) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`)}</dl>
</section>`;
}
