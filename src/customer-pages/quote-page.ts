import { lastDayText } from '../company/index.ts';
import { formatCents, type PaperAddress, type QuotePaper, quoteWords } from '../documents/index.ts';
import { dayText, type Language, pageFrame, withPhone } from '../page-frame/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { answerPart, fieldId, mistakesOf } from './answer-part.ts';
import { optionName } from './consent-text.ts';
import { findingsPart } from './findings-part.ts';
import type { TypedForm } from './forms.ts';
import { answerPath, pagePath } from './link-cookie.ts';
import { optionCard, optionsPart } from './options-part.ts';
import { acceptedAt, paperIn, type QuoteAt } from './quote-at.ts';
import { receiptPart, shortHash } from './receipt-part.ts';
import { togetherWith, whatANoMeans } from './what-a-no-means.ts';
import { type Refusal, type Words, words } from './words.ts';

/** What the page is shown for, besides the quote itself. */
export interface Shown {
  language: Language;
  now: Date;
  /** Why an answer was not taken. */
  refusal?: Refusal;
  /** A form that comes back with its mistakes. */
  failed?: TypedForm;
  /** The answer whose form was asked for, as it stands in the address. */
  chosen?: string | undefined;
}

/** The customer's page: what was found, what it costs and why, and the answer or its receipt. */
export function quotePage(quote: QuoteAt, shown: Shown): Html {
  const { language, failed } = shown;
  const own = words[language];
  const paper = paperIn(quote, language);
  const heading =
    quote.parentNumber === undefined
      ? own.title(String(quote.number))
      : quoteWords[language].changeTo(String(quote.parentNumber));
  const title = `${heading}, ${paper.company.name}`;
  const isAnswerable = quote.standing.state === 'open' || quote.standing.state === 'expired';
  return pageFrame(
    {
      language,
      path: pagePath(quote.number),
      title: isMistaken(failed) ? `${own.mistakes}. ${title}` : title,
      company: {
        ...paper.company,
        phone: quote.company.phone,
        regulator: paper.company.regulatorLine,
      },
      ...(isAnswerable && { skip: { to: 'answer', text: own.skip } }),
    },
    html`${refusalPart(shown)}
${mistakesPart(quote, shown)}
<h1>${heading}</h1>
${standingPart(quote, language)}
${receiptPart(quote, language, shown.now, failed)}
${aboutPart(quote, paper, language)}
${findingsPart(paper.findings, own, paper.language)}
${pricesPart(quote, language)}
${cautionsPart(paper, language)}
${legalPart(paper, language)}
${answerPart(quote, language, shown)}
${keepPart(quote, language)}`,
  );
}

/** Why the answer that was just sent was not taken: before everything else. */
function refusalPart({ language, refusal }: Shown): HtmlValue {
  if (refusal === undefined) return undefined;
  const { title, text } = words[language].refusal[refusal];
  return html`<div class="notice" role="alert">
<h2>${title}</h2>
<p>${text} <strong>${words[language].nothingRecorded}</strong></p>
</div>`;
}

function mistakesPart(quote: QuoteAt, { language, failed }: Shown): HtmlValue {
  if (failed === undefined || !isMistaken(failed)) return undefined;
  const own = words[language];
  const items = mistakesOf(failed, own).map(
    ({ field, message }) =>
      html`<li><a href="#${fieldId(failed, field, quote)}">${message}</a></li>`,
  );
  return html`<div class="notice" role="alert">
<h2>${own.mistakes}</h2>
<ul>${items}</ul>
<p>${own.nothingRecorded}</p>
</div>`;
}

/** A form can also come back only to be read again, with what was typed. */
function isMistaken(failed: TypedForm | undefined): boolean {
  return failed !== undefined && failed.mistakes.size > 0;
}

/** What cannot be answered any more says so at once, with whom to call. */
function standingPart({ standing, company }: QuoteAt, language: Language): HtmlValue {
  const { state } = standing;
  if (state === 'open' || state === 'accepted' || state === 'declined') return undefined;
  const { title, text } = words[language].closed[state];
  return html`<div class="notice">
<h2>${title}</h2>
<p>${withPhone(text, company.phone)}</p>
</div>`;
}

function aboutPart(quote: QuoteAt, paper: QuotePaper, language: Language): Html {
  const own = words[language];
  const { timeZone } = quote.company;
  const isForeign = paper.language !== language;
  const issued = own.issued(dayText(new Date(paper.issuedAt), language, timeZone));
  return html`<div class="about">
<p class="lead" lang="${paper.language}">${paper.summary}</p>
<p class="small">${forWhom(quote, paper, own)}<br>
${quote.isChange && `${own.numbered(String(quote.number))} · `}${issued}${quote.revision > 1 && html` · ${own.revision(quote.revision)}. ${own.replacesEarlier}`}</p>
${isForeign && own.paperIsEnglish !== undefined && html`<p class="foreign">${own.paperIsEnglish}</p>`}
${quote.standing.state === 'open' && glancePart(quote, paper, language)}
</div>`;
}

function forWhom({ link }: QuoteAt, { site }: QuotePaper, own: Words): string {
  const about = own.preparedFor(link.holderName, addressLine(site.address));
  return site.occupant === link.holderName ? about : `${about}, ${own.occupant(site.occupant)}`;
}

function glanceRow(
  quote: QuoteAt,
  { totalCents, at }: { totalCents: number; at: number },
  language: Language,
): Html {
  const together = togetherWith(quote, totalCents, language);
  return html`<div class="row"><dt><a class="jump" href="#option-${at + 1}">${optionName(quote, at, language)}</a></dt><dd>${formatCents(totalCents)}</dd></div>
${together !== undefined && html`<div class="row"><dt>${together.name}</dt><dd>${together.total}</dd></div>`}`;
}

function glancePart(quote: QuoteAt, paper: QuotePaper, language: Language): Html {
  const own = words[language];
  const means = whatANoMeans(quote, language);
  const { timeZone } = quote.company;
  return html`<div class="glance">
<h2 class="quiet">${own.atAGlance}</h2>
<dl>
${quote.options.map(({ totalCents }, at) => glanceRow(quote, { totalCents, at }, language))}
<div class="row"><dt><a class="jump" href="${answerPath(quote, 'no')}">${means.name}</a></dt><dd>${quote.isChange ? means.short : formatCents(paper.decline.totalCents)}</dd></div>
</dl>
<p class="small">${own.validUntil(lastDayText(quote.validUntil, timeZone, language))}</p>
</div>`;
}

/** Every option before the answer; after a yes the one that was agreed to, while it stands. */
function pricesPart(quote: QuoteAt, language: Language): HtmlValue {
  if (quote.standing.state !== 'accepted') return optionsPart(quote, language);
  if (quote.standing.yes.cancellation !== null) return undefined;
  return html`<section aria-labelledby="agreed">
<h2 id="agreed">${words[language].receipt.agreedTo}</h2>
<div class="options options-1">${optionCard(quote, acceptedAt(quote), language, false)}</div>
</section>`;
}

function cautionsPart(paper: QuotePaper, language: Language): HtmlValue {
  if (paper.cautions.length === 0) return undefined;
  return html`<section aria-labelledby="cautions">
<h2 id="cautions">${words[language].cautions}</h2>
<ul lang="${paper.language}">${paper.cautions.map((caution) => html`<li>${caution}</li>`)}</ul>
</section>`;
}

function legalPart(paper: QuotePaper, language: Language): HtmlValue {
  if (paper.legalTexts.length === 0) return undefined;
  return html`<section aria-labelledby="legal" class="legal">
<h2 id="legal">${words[language].legal}</h2>
<div lang="${paper.language}">${paper.legalTexts.map(
    ({ title, text }) => html`<h3>${title}</h3>
<p>${text}</p>`,
  )}</div>
</section>`;
}

function keepPart(quote: QuoteAt, language: Language): Html {
  const own = words[language];
  return html`<section class="keep" aria-label="${own.paper}">
<p><a class="paper" href="${pagePath(quote.number)}/paper?lang=${language}">${own.paper}</a> <span class="small">${own.paperHint}</span></p>
${answerPaper(quote, language)}
<p class="small">${own.fingerprint}: <span class="hash">${shortHash(quote.contentHash)}</span>. ${own.fingerprintHint}</p>
<p class="small">${own.opensUntil(dayText(quote.link.opensUntil, language, quote.company.timeZone))}</p>
<p>${withPhone(own.questions, quote.company.phone)}</p>
<form method="post" action="${pagePath(quote.number)}/leave"><input type="hidden" name="language" value="${language}"><button type="submit" class="plain">${own.leave}</button></form>
</section>`;
}

/** What the customer said, as a paper to keep; none before they said it. */
function answerPaper({ standing, number }: QuoteAt, language: Language): HtmlValue {
  const { state } = standing;
  if (state !== 'accepted' && state !== 'declined') return undefined;
  const { answerPaper: named } = words[language];
  return html`<p><a class="paper" href="${pagePath(number)}/receipt?lang=${language}">${named[state]}</a></p>`;
}

function addressLine({ street, city, region, postalCode }: PaperAddress): string {
  return `${street}, ${city}, ${region} ${postalCode}`;
}
