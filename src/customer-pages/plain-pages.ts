import type { Company } from '../platform/database/generated/client.ts';
import { type Html, html } from '../platform/html/html.ts';
import { pageFrame, phoneLink, withPhone } from './page-frame.ts';
import { type Language, type Refusal, words } from './words.ts';

/** The one page for links that never were, ran out or were revoked: nobody learns which. */
export function missingPage(company: Company, language: Language): Html {
  const own = words[language].missing;
  return pageFrame(
    { language, title: `${own.title}, ${company.name}`, company },
    html`<h1>${own.title}</h1>
<div class="about">
<p class="lead">${own.text}</p>
<p>${withPhone(own.help, company.phone)}</p>
</div>`,
  );
}

/** What is shown where the quote itself cannot be: for a request that was not the page's own. */
export function refusalPage(company: Company, language: Language, refusal: Refusal): Html {
  const own = words[language];
  const { title, text } = own.refusal[refusal];
  return pageFrame(
    { language, title: `${title}, ${company.name}`, company },
    html`<h1>${title}</h1>
<div class="about">
<p class="lead">${text}</p>
<p><strong>${own.nothingRecorded}</strong></p>
<p><a href="/your-quote">${own.back}</a> · ${phoneLink(company.phone)}</p>
</div>`,
  );
}
