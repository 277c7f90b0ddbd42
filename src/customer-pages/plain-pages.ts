import {
  inBoth,
  type PlainPage,
  pageFrame,
  phoneLink,
  plainPage,
  withPhone,
} from '../page-frame/index.ts';
import { type Html, html } from '../platform/html/html.ts';
import { type Refusal, words } from './words.ts';

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
    inBoth(language, (each) => {
      const { needsHttps } = words[each];
      return {
        title: needsHttps.title,
        content: html`<p class="lead">${needsHttps.text}</p>
<p>${withPhone(needsHttps.help, company.phone)}</p>`,
      };
    }),
  );
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
