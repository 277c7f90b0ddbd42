import { dayText, type PlainPage, pageFrame, withPhone } from '../page-frame/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { type ProofVerdict, type ToldVerdict, tellVerdict } from '../proof/index.ts';
import type { CheckedFile, Found } from './check-file.ts';
import type { IssuedPaper } from './issued-papers.ts';
import { paperPath, VERIFY_PATH } from './paper-page.ts';
import { paperPart } from './paper-part.ts';
import { verdictMark, type Worth } from './verdict-mark.ts';
import { type Unread, words } from './words.ts';

/** Why a file was not read, and when it can be sent again. */
export interface NotRead {
  why: Unread;
  waitSeconds?: number | undefined;
}

/** The form that takes a file, and above it why the last one was not read. */
export function verifyPage(to: PlainPage, notRead?: NotRead): Html {
  const { company, language, path } = to;
  const own = words[language].verify;
  const title = notRead === undefined ? own.title : own.unread[notRead.why].title;
  return pageFrame(
    { language, path, title: `${title}, ${company.name}`, company },
    html`${notRead && notReadPart(to, notRead)}
<h1>${own.title}</h1>
<div class="about">
<p class="lead">${own.lead}</p>
<form class="send-file" method="post" enctype="multipart/form-data" action="${VERIFY_PATH}?lang=${language}">
<div class="field"><label for="file">${own.file}</label>
<input type="file" id="file" name="file" accept="application/pdf,.pdf" required aria-describedby="file-hint">
<p class="small" id="file-hint">${own.hint} ${own.kept}</p></div>
<button type="submit" class="yes">${own.button}</button>
</form>
<p>${own.onPaper}</p>
</div>
${questionsPart(to)}`,
  );
}

/** What a file is worth, what differs, what became of the paper, and what to do. */
export function verdictPage(to: PlainPage, checked: CheckedFile): Html {
  const { company, language, path } = to;
  const own = words[language].verify;
  const { worth, told, todo } = judged(to, checked);
  return pageFrame(
    { language, path, title: `${told.headline.replace(/\.$/, '')}, ${company.name}`, company },
    html`<h1 class="judged judged-${worth}">${verdictMark(worth)}<span>${told.headline}</span></h1>
<div class="about">
<p class="lead">${told.meaning}</p>
</div>
${differencesPart(told, own.differs)}
${checked.found && foundPart(checked.found, to, worth)}
<section aria-labelledby="next">
<h2 id="next">${own.next}</h2>
<p>${withPhone(todo, company.phone)}</p>
<p><a class="paper" href="${VERIFY_PATH}?lang=${language}">${own.another}</a></p>
</section>
${questionsPart(to)}`,
  );
}

interface Judged {
  worth: Worth;
  told: Pick<ToldVerdict, 'headline' | 'meaning' | 'differences'>;
  todo: (phone: string) => string;
}

function judged(to: PlainPage, checked: CheckedFile): Judged {
  const { todo } = words[to.language].verify;
  if (checked.outcome === 'kept') {
    return { worth: 'genuine', told: tellKept(to, checked.paper), todo: todo.genuine };
  }
  const { verdict, found } = checked;
  const told = tellVerdict(verdict, to.language);
  const worth = WORTH[verdict.verdict];
  // What can only be said beside what we issued.
  if (worth === 'genuine' && found === undefined)
    return { worth, told, todo: todo.genuine_unknown };
  if (worth === 'cannot_tell' && found) return { worth, told, todo: todo.unsure };
  return { worth, told, todo: todo[worth] };
}

const WORTH: Record<ProofVerdict['verdict'], Worth> = {
  genuine: 'genuine',
  // Our pages, but another viewer may read a file that we did not pack in its own way.
  same_pages: 'cannot_tell',
  altered: 'altered',
  // Whoever signs with a key of their own means to be taken for us.
  unknown_key: 'altered',
  unsure: 'cannot_tell',
  not_ours: 'cannot_tell',
  unreadable: 'cannot_tell',
};

/** In the words of a verdict, with the day on which the very same file was made. */
function tellKept({ company, language }: PlainPage, { kind, number, on }: IssuedPaper) {
  const paper = { kind, number, language, renderer: '', kid: '' };
  const { headline } = tellVerdict({ verdict: 'genuine', paper }, language);
  const day = dayText(on, language, company.timeZone);
  return { headline, meaning: words[language].verify.byteForByte(day), differences: [] };
}

function differencesPart({ differences }: Judged['told'], heading: string): HtmlValue {
  if (differences.length === 0) return undefined;
  return html`<section aria-labelledby="differs">
<h2 id="differs">${heading}</h2>
<ul>${differences.map((line) => html`<li>${line}</li>`)}</ul>
</section>`;
}

/** Under an altered file it is the paper that should have been there. */
function foundPart({ contentHash, papers }: Found, to: PlainPage, worth: Worth): Html {
  const own = words[to.language].verify;
  return html`<div class="found">
<p class="quiet">${worth === 'genuine' ? own.whatStands : own.inside}</p>
${papers.map((paper) => paperPart(paper, to))}
<p><a class="paper" href="${paperPath(contentHash)}?lang=${to.language}">${own.look}</a></p>
</div>`;
}

function notReadPart({ language }: PlainPage, { why, waitSeconds }: NotRead): Html {
  const own = words[language].verify;
  const { title, text } = own.unread[why];
  return html`<div class="notice" role="alert">
<h2>${title}</h2>
<p>${text}${waitSeconds !== undefined && ` ${own.wait(waitSeconds)}`}</p>
</div>`;
}

function questionsPart({ company, language }: PlainPage): Html {
  return html`<section class="keep">
<p>${withPhone(words[language].questions, company.phone)}</p>
</section>`;
}
