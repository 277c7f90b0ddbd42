import type { Company } from '../platform/database/generated/client.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { pageFrame, phoneLink, withPhone } from './page-frame.ts';
import { type Language, languageSchema, type Refusal, type Words, words } from './words.ts';

/** Where a page without a quote is shown, and to whom it sends people. */
export interface PlainPage {
  company: Company;
  language: Language;
  path: string;
}

/** The one page for links that never were, ran out or were revoked: nobody learns which. */
export function missingPage(shown: PlainPage): Html {
  const own = words[shown.language].missing;
  return plainPage(
    shown,
    own.title,
    own.text,
    html`<p>${withPhone(own.help, shown.company.phone)}</p>`,
  );
}

/** The same for an answer that came after the link was gone, or long after the page was opened. */
export function nothingRecordedPage(shown: PlainPage): Html {
  const { missing, nothingRecorded } = words[shown.language];
  return plainPage(
    shown,
    nothingRecorded,
    missing.openAgain,
    html`<p>${withPhone(missing.help, shown.company.phone)}</p>`,
  );
}

/** What whoever was replaced at a site finds at their link. */
export function replacedPage(shown: PlainPage, refusal: Refusal | undefined): Html {
  const { closed, nothingRecorded } = words[shown.language];
  const { title, text } = closed.holder_replaced;
  return plainPage(
    shown,
    title,
    withPhone(text, shown.company.phone),
    refusal !== undefined && html`<p><strong>${nothingRecorded}</strong></p>`,
  );
}

/** What stands where a quote was closed on purpose. */
export function closedPage(shown: PlainPage): Html {
  const { left, questions } = words[shown.language];
  return plainPage(
    shown,
    left.title,
    left.text,
    html`<p>${withPhone(questions, shown.company.phone)}</p>`,
  );
}

/**
 * What a good link leads to where no browser would keep the cookie that lets in. It speaks both
 * languages at once: here a wish could be neither kept nor asked for without naming the token.
 */
export function needsHttpsPage({ company, language }: PlainPage): Html {
  const { title } = words[language].needsHttps;
  return pageFrame(
    { language, title: `${title}, ${company.name}`, company },
    inBoth(language, ({ needsHttps }) => ({
      title: needsHttps.title,
      content: html`<p class="lead">${needsHttps.text}</p>
<p>${withPhone(needsHttps.help, company.phone)}</p>`,
    })),
  );
}

/** What is shown when not even the letterhead could be read: nobody knows who reads it. */
export function troublePage(language: Language): Html {
  return pageFrame(
    { language, title: words[language].refusal.our_mistake.title },
    inBoth(language, ({ refusal }) => ({
      title: refusal.our_mistake.title,
      content: html`<p class="lead">${refusal.our_mistake.text}</p>`,
    })),
  );
}

/** The same in every language, the one that was chosen first. */
function inBoth(
  chosen: Language,
  said: (own: Words) => { title: string; content: Html },
): HtmlValue {
  const first = said(words[chosen]);
  const others = languageSchema.options.filter((language) => language !== chosen);
  return [
    html`<h1>${first.title}</h1>
<div class="about">
${first.content}
</div>`,
    others.map((language) => {
      const { title, content } = said(words[language]);
      return html`<section lang="${language}" aria-labelledby="in-${language}">
<h2 id="in-${language}">${title}</h2>
${content}
</section>`;
    }),
  ];
}

/** What is shown where the quote itself cannot be: for a request that was not the page's own. */
export function refusalPage(shown: PlainPage, refusal: Refusal): Html {
  const own = words[shown.language];
  const { title, text } = own.refusal[refusal];
  return plainPage(
    shown,
    title,
    text,
    // After a mistake of ours nobody can say whether the answer was recorded before it.
    html`${refusal !== 'our_mistake' && html`<p><strong>${own.nothingRecorded}</strong></p>`}
<p><a href="${shown.path}">${own.back}</a> · ${phoneLink(shown.company.phone)}</p>`,
  );
}

function plainPage(
  { company, language, path }: PlainPage,
  title: string,
  text: HtmlValue,
  more: HtmlValue,
): Html {
  return pageFrame(
    { language, path, title: `${title.replace(/\.$/, '')}, ${company.name}`, company },
    html`<h1>${title}</h1>
<div class="about">
<p class="lead">${text}</p>
${more}
</div>`,
  );
}
