import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { type Language, languageSchema } from './language.ts';

/** The same in every language, the one that was chosen first. */
export function inBoth(
  chosen: Language,
  said: (language: Language) => { title: string; content: Html },
): HtmlValue {
  const first = said(chosen);
  const others = languageSchema.options.filter((language) => language !== chosen);
  return [
    html`<h1>${first.title}</h1>
<div class="about">
${first.content}
</div>`,
    others.map((language) => {
      const { title, content } = said(language);
      return html`<section lang="${language}" aria-labelledby="in-${language}">
<h2 id="in-${language}">${title}</h2>
${content}
</section>`;
    }),
  ];
}
