import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { frameWords } from './frame-words.ts';
import { type Language, languageSchema } from './language.ts';
import { stylesheetPath } from './stylesheet.ts';

/** Whose page it is: what stands at its head and foot. */
export interface Letterhead {
  name: string;
  phone: string;
  licenseNumber: string;
  regulator: string;
}

/** A whole page around its content. */
export function pageFrame(
  {
    language,
    title,
    path,
    company,
    skip,
  }: {
    language: Language;
    title: string;
    /** Where the same page is shown in another language; absent when it says all in both. */
    path?: string;
    /** Absent when it could not be read. */
    company?: Letterhead;
    /** What a keyboard jumps to first: its id, and in words. */
    skip?: { to: string; text: string };
  },
  content: HtmlValue,
): Html {
  return html`<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<title>${title}</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex, nofollow">
<meta name="color-scheme" content="light dark">
<meta name="format-detection" content="telephone=no">
<link rel="stylesheet" href="${stylesheetPath}">
</head>
<body>
${skip && html`<a class="skip" href="#${skip.to}">${skip.text}</a>`}
${company && headPart(company, language, path)}
<main>
${content}
</main>
${company && footPart(company, language)}
</body>
</html>
`;
}

function headPart(company: Letterhead, language: Language, path: string | undefined): Html {
  return html`<header class="letterhead">
<p class="company">${company.name}</p>
<p class="credentials">${frameWords[language].license(company.licenseNumber)} · ${phoneLink(company.phone)}</p>
${path !== undefined && languageChoice(language, path)}
</header>`;
}

function footPart(company: Letterhead, language: Language): Html {
  return html`<footer>
<p>${company.name} · ${frameWords[language].license(company.licenseNumber)} · ${phoneLink(company.phone)}</p>
<p>${company.regulator}</p>
</footer>`;
}

/** A phone number to be pressed. */
export function phoneLink(phone: string): Html {
  return html`<a href="tel:${phone.replace(/[^\d+]/g, '')}">${phone}</a>`;
}

/** A sentence that names the phone number, with the number to be pressed. */
export function withPhone(sentence: (phone: string) => string, phone: string): HtmlValue {
  return sentence(phone)
    .split(phone)
    .flatMap((text, at) => (at === 0 ? [text] : [phoneLink(phone), text]));
}

function languageChoice(shown: Language, path: string): Html {
  const choices = languageSchema.options.map((language) => {
    const { languageName } = frameWords[language];
    return language === shown
      ? html`<li><span aria-current="true" lang="${language}">${languageName}</span></li>`
      : html`<li><a href="${path}?lang=${language}" lang="${language}" hreflang="${language}">${languageName}</a></li>`;
  });
  return html`<nav class="languages" aria-label="${frameWords[shown].switchLanguage}"><ul>${choices}</ul></nav>`;
}
