import { type Html, html } from '../platform/html/html.ts';
import { frameWords } from './frame-words.ts';
import { inBoth } from './in-both.ts';
import type { Language } from './language.ts';
import { pageFrame } from './page-frame.ts';

/** What is shown when not even the letterhead could be read: nobody knows who reads it. */
export function troublePage(language: Language): Html {
  return pageFrame(
    { language, title: frameWords[language].ourMistake.title },
    inBoth(language, (each) => ({
      title: frameWords[each].ourMistake.title,
      content: html`<p class="lead">${frameWords[each].ourMistake.text}</p>`,
    })),
  );
}
