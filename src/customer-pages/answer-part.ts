import { lastDayText } from '../company/index.ts';
import { formatCents } from '../documents/index.ts';
import type { Language } from '../page-frame/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { sha256 } from '../platform/sha256.ts';
import { cancelText, consentText, optionName } from './consent-text.ts';
import type { TypedForm } from './forms.ts';
import { pagePath } from './link-cookie.ts';
import type { QuoteAt, Yes } from './quote-at.ts';
import { type NoMeans, whatANoMeans } from './what-a-no-means.ts';
import { type Words, words } from './words.ts';

/**
 * The answers that can be given now: yes to one of the options, while the prices stand, or no. Each
 * is a form of its own, so that the text that is agreed to names one option and its total.
 */
export function answerPart(
  quote: QuoteAt,
  language: Language,
  { failed, chosen }: { failed?: TypedForm | undefined; chosen?: string | undefined },
): HtmlValue {
  const { state } = quote.standing;
  if (state !== 'open' && state !== 'expired') return undefined;
  const own = words[language];
  return html`<section aria-labelledby="answer" class="answers">
<h2 id="answer" tabindex="-1">${own.answer}</h2>
<p>${own.answerLead}</p>
${state === 'open' && quote.options.map((_, at) => yesPart(quote, at, language, { failed, chosen }))}
${noPart(quote, language, { failed, chosen })}
</section>`;
}

/** What was typed into a form, when it is that form that comes back. */
interface Shown {
  prefix: string;
  own: Words;
  value(field: string): string;
  isWrong(field: string): boolean;
}

/** Which form comes back with its mistakes, and which was asked for. */
interface Opened {
  failed: TypedForm | undefined;
  chosen: string | undefined;
}

function yesPart(quote: QuoteAt, at: number, language: Language, { failed, chosen }: Opened): Html {
  const own = words[language];
  const option = quote.options[at];
  const name = optionName(quote, at, language);
  const total = formatCents(option?.totalCents ?? 0);
  const isFailed = failed?.form === 'accept' && failed.typed['option'] === option?.id;
  const shown = shownForm(`accept-${at + 1}`, own, isFailed ? failed : undefined);
  const isOpen = isFailed || quote.options.length === 1 || chosen === String(at + 1);
  return html`<div id="answer-${at + 1}" class="answer">
${
  option?.isAboveLimit
    ? aboveLimitPart(quote, name, total, own)
    : html`<details${isOpen && html` open`}>
<summary><span class="answer-name">${own.yesTo(name)}</span> <span class="answer-total">${total}</span></summary>
<form method="post" action="${pagePath(quote.number)}/accept">
<input type="hidden" name="option" value="${option?.id}">
<input type="hidden" name="total" value="${option?.totalCents}">
${hiddenPart(quote, language, consentText(quote, at, language))}
<p class="consent" id="${shown.prefix}-text">${consentText(quote, at, language)}</p>
${checkbox(shown, 'agree', own.agree, `${shown.prefix}-text`)}
${nameField(shown)}
<button type="submit" class="yes">${own.accept(total)}</button>
</form>
</details>`
}
</div>`;
}

/** What a form says of the page it stands on: the quote, the language, and the text agreed to. */
function hiddenPart({ contentHash }: QuoteAt, language: Language, text?: string): Html {
  return html`<input type="hidden" name="hash" value="${contentHash}">
<input type="hidden" name="language" value="${language}">
${text !== undefined && html`<input type="hidden" name="text" value="${sha256(text)}">`}`;
}

function aboveLimitPart(quote: QuoteAt, name: string, total: string, own: Words): Html {
  return html`<div class="above-limit">
<p><span class="answer-name">${own.yesTo(name)}</span> <span class="answer-total">${total}</span></p>
<p>${whyAbove(quote, own)} ${own.askPayer(quote.payerName)}</p>
</div>`;
}

/** The limit is one of the whole job, so a second yes counts together with the first. */
function whyAbove({ agreedBeforeCents, limitCents = 0 }: QuoteAt, own: Words): string {
  const limit = formatCents(limitCents);
  if (agreedBeforeCents === 0) return own.aboveLimit(limit);
  return own.aboveLimitTogether(formatCents(agreedBeforeCents), limit);
}

function noPart(quote: QuoteAt, language: Language, { failed, chosen }: Opened): Html {
  const own = words[language];
  const means = whatANoMeans(quote, language);
  const isFailed = failed?.form === 'decline';
  const shown = shownForm('decline', own, isFailed ? failed : undefined);
  const reasonId = `${shown.prefix}-reason`;
  return html`<div id="answer-no" class="answer">
<details${(isFailed || chosen === 'no') && html` open`}>
<summary><span class="answer-name">${own.no}</span> <span class="answer-total">${means.short}</span></summary>
<form method="post" action="${pagePath(quote.number)}/decline">
${hiddenPart(quote, language)}
<p>${noteOf(quote, means, own)}</p>
${nameField(shown)}
<div class="field">
<label for="${reasonId}">${own.reason} <span class="small">(${own.optional})</span></label>
${wrong(shown, 'reason', reasonId)}
<textarea id="${reasonId}" name="reason" rows="3" maxlength="1000"${describedBy(shown, 'reason', reasonId)}>${shown.value('reason')}</textarea>
</div>
<button type="submit" class="no">${own.decline}</button>
</form>
</details>
</div>`;
}

/** Prices that have run out already are not gone by a no; and a change is work of a visit that goes on. */
function noteOf(quote: QuoteAt, { owedCents, sentence }: NoMeans, own: Words): string {
  const note = owedCents === undefined ? sentence : own.declineNote(formatCents(owedCents));
  const gone = quote.standing.state === 'open' ? [own.noEnds] : [];
  const again = quote.isChange ? [] : [own.comeAgain];
  return [note, own.keepQuote, ...gone, ...(gone.length > 0 ? again : [])].join(' ');
}

/** The way to take a yes back, while the law gives it. */
export function cancelPart(
  quote: QuoteAt,
  { yes, at }: { yes: Yes; at: number },
  language: Language,
  timeZone: string,
  failed?: TypedForm,
): HtmlValue {
  if (yes.cancelUntil === null) return undefined;
  const own = words[language];
  const isFailed = failed?.form === 'cancel';
  const shown = shownForm('cancel', own, isFailed ? failed : undefined);
  return html`<section aria-labelledby="cancel" class="answers">
<h2 id="cancel">${own.cancel.heading}</h2>
<p>${own.cancel.until(lastDayText(yes.cancelUntil, timeZone, language))}</p>
<div class="answer">
<details${isFailed && html` open`}>
<summary><span class="answer-name">${own.cancel.open}</span></summary>
<form method="post" action="${pagePath(quote.number)}/cancel">
${hiddenPart(quote, language, cancelText(quote, at, language))}
<p class="consent" id="cancel-text">${cancelText(quote, at, language)}</p>
${checkbox(shown, 'notice', own.cancel.agree, 'cancel-text')}
${nameField(shown)}
<button type="submit" class="no">${own.cancel.button}</button>
</form>
</details>
</div>
</section>`;
}

/** The id of a field in the form that comes back, for the list of what is missing. */
export function fieldId({ form, typed }: TypedForm, field: string, quote: QuoteAt): string {
  if (form !== 'accept') return `${form}-${field}`;
  return `accept-${quote.options.findIndex(({ id }) => id === typed['option']) + 1}-${field}`;
}

function shownForm(prefix: string, own: Words, failed: TypedForm | undefined): Shown {
  return {
    prefix,
    own,
    value: (field) => failed?.typed[field] ?? '',
    isWrong: (field) => failed?.mistakes.has(field) ?? false,
  };
}

function nameField(shown: Shown): Html {
  const { prefix, own } = shown;
  const id = `${prefix}-name`;
  return html`<div class="field">
<label for="${id}">${own.yourName}</label>
<p class="small" id="${id}-hint">${own.nameHint}</p>
${wrong(shown, 'name', id)}
<input id="${id}" name="name" type="text" autocomplete="name" required maxlength="200" value="${shown.value('name')}"${describedBy(shown, 'name', id, `${id}-hint`)}>
</div>`;
}

function checkbox(shown: Shown, field: string, label: string, textId: string): Html {
  const id = `${shown.prefix}-${field}`;
  return html`<div class="field check">
${wrong(shown, field, id)}
<label for="${id}"><input id="${id}" name="${field}" type="checkbox" value="yes" required${shown.value(field) === 'yes' && html` checked`}${describedBy(shown, field, id, textId)}> <span>${label}</span></label>
</div>`;
}

const FIELDS = ['name', 'agree', 'reason', 'notice'] as const;

/** The fields of a form that can be wrong by a person's hand, with what to say then. */
export function mistakesOf({ mistakes }: TypedForm, own: Words) {
  return FIELDS.filter((field) => mistakes.has(field)).map((field) => ({
    field,
    message: own.mistake[field],
  }));
}

function wrong(shown: Shown, field: string, id: string): HtmlValue {
  const known = FIELDS.find((each) => each === field);
  if (known === undefined || !shown.isWrong(field)) return undefined;
  return html`<p class="wrong" id="${id}-wrong">${shown.own.mistake[known]}</p>`;
}

function describedBy(shown: Shown, field: string, id: string, hintId?: string): HtmlValue {
  const ids = [hintId, shown.isWrong(field) ? `${id}-wrong` : undefined].filter(Boolean).join(' ');
  return [
    ids !== '' && html` aria-describedby="${ids}"`,
    shown.isWrong(field) && html` aria-invalid="true"`,
  ];
}
