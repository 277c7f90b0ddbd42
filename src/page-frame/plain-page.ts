import type { Company } from '../platform/database/generated/client.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import type { Language } from './language.ts';
import { pageFrame } from './page-frame.ts';

/** Where a page is shown that says one thing, and to whom it sends people. */
export interface PlainPage {
  company: Company;
  language: Language;
  /** Where the same is shown in another language. */
  path: string;
}

/** A page that says one thing and what to do next. */
export function plainPage(
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
