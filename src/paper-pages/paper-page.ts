import { type PlainPage, pageFrame, plainPage, withPhone } from '../page-frame/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { type IssuedPaper, waitingQuote } from './issued-papers.ts';
import { paperPart } from './paper-part.ts';
import { toldPaper } from './told-paper.ts';
import { words } from './words.ts';

/** Where a paper is looked up. */
export function paperPath(contentHash: string): string {
  return `/paper/${contentHash}`;
}

/** Where a file is checked. */
export const VERIFY_PATH = '/verify';

interface Shown {
  contentHash: string;
  papers: readonly IssuedPaper[];
  /** The link of the quote was just asked for. */
  wasAsked: boolean;
}

/** What was issued under a fingerprint, and what became of it. */
export function paperPage(to: PlainPage, { contentHash, papers, wasAsked }: Shown): Html {
  const { company, language, path } = to;
  const own = words[language];
  const isOpen = waitingQuote(papers) !== undefined;
  const names = papers.map((paper) => toldPaper(paper, to).name).join(', ');
  return pageFrame(
    { language, path, title: `${names}, ${company.name}`, company },
    html`<h1>${own.issued.title(papers.length)}</h1>
<div class="about">
${wasAsked && isOpen && askedPart(to)}
<p class="lead">${withPhone(own.issued.lead, company.phone)}</p>
</div>
${papers.map((paper) => paperPart(paper, to))}
${isOpen && !wasAsked && againPart(contentHash, to)}
<section aria-labelledby="check">
<h2 id="check">${own.check.heading}</h2>
<p>${own.check.text}</p>
<p><a class="paper" href="${VERIFY_PATH}?lang=${language}">${own.check.link}</a></p>
</section>
<section class="keep">
<p class="small">${own.issued.fingerprint}:<br>
<span class="hash">${inGroups(contentHash)}</span></p>
<p>${withPhone(own.questions, company.phone)}</p>
</section>`,
  );
}

/** What leads nowhere, whatever was asked for: nobody learns what else there may be. */
export function missingPage(to: PlainPage): Html {
  const { missing, check } = words[to.language];
  return plainPage(
    to,
    missing.title,
    missing.text,
    html`<p>${withPhone(missing.help, to.company.phone)}</p>
<p>${check.heading} <a href="${VERIFY_PATH}?lang=${to.language}">${check.link}</a></p>`,
  );
}

function askedPart({ company, language }: PlainPage): HtmlValue {
  const { again } = words[language];
  return html`<div class="glance" role="status">
<p><strong>${again.asked}.</strong> ${withPhone(again.askedText, company.phone)}</p>
</div>`;
}

function againPart(contentHash: string, { language }: PlainPage): Html {
  const { again } = words[language];
  return html`<section aria-labelledby="again">
<h2 id="again">${again.heading}</h2>
<p>${again.text}</p>
<form method="post" action="${paperPath(contentHash)}/link"><input type="hidden" name="language" value="${language}"><button type="submit" class="no">${again.button}</button></form>
</section>`;
}

/** To be compared by eye, a few letters at a time. */
function inGroups(hash: string): string {
  return hash.replace(/(.{8})(?=.)/g, '$1 ');
}
