import {
  formatCents,
  type PaperLine,
  type PaperLineGroup,
  type PaperOption,
  type PaperPricedLine,
  withTimesSign,
} from '../documents/index.ts';
import type { Language } from '../page-frame/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { optionName } from './consent-text.ts';
import { answerPath } from './link-cookie.ts';
import { paperIn, type QuoteAt } from './quote-at.ts';
import { togetherWith, whatANoMeans } from './what-a-no-means.ts';
import { words } from './words.ts';

/** What each option holds and costs, side by side where there is room, and what a no costs. */
export function optionsPart(quote: QuoteAt, language: Language): Html {
  const own = words[language];
  const { options } = paperIn(quote, language);
  const heading = options.length > 1 ? own.options.several : own.options.one;
  const isOpen = quote.standing.state === 'open' || quote.standing.state === 'expired';
  return html`<section aria-labelledby="options" class="wide">
<h2 id="options">${heading}</h2>
<div class="options options-${options.length}">
${options.map((_, at) => optionCard(quote, at, language, quote.standing.state === 'open'))}
</div>
${isOpen && declinePart(quote, language)}
</section>`;
}

/** What a no costs, as long as it can be said; afterwards the receipt says what is owed. */
function declinePart(quote: QuoteAt, language: Language): Html {
  const means = whatANoMeans(quote, language);
  return html`<div class="decline-costs">
<h3>${means.name}</h3>
<p>${means.sentence}</p>
<p class="to-answer"><a href="${answerPath(quote, 'no')}">${words[language].sayNo}</a></p>
</div>`;
}

/** One option with everything its price is made of. */
export function optionCard(
  quote: QuoteAt,
  at: number,
  language: Language,
  leadsToAnswer: boolean,
): HtmlValue {
  const own = words[language];
  const paper = paperIn(quote, language);
  const option = paper.options[at];
  if (option === undefined) return undefined;
  const letter = quote.options.length > 1 ? option.letter : undefined;
  const together = togetherWith(quote, option.totalCents, language);
  const isAnswerable = leadsToAnswer && quote.options[at]?.isAboveLimit === false;
  return html`<article class="option" aria-labelledby="option-${at + 1}">
<h3 id="option-${at + 1}" lang="${paper.language}">${optionName(quote, at, language)}</h3>
<p class="option-total"><b>${formatCents(option.totalCents)}</b> <span class="small">${own.withTax}</span></p>
${together !== undefined && html`<p class="small">${together.name}: ${together.total}</p>`}
${option.explanation !== undefined && html`<p class="small" lang="${paper.language}">${option.explanation}</p>`}
${pricesPart(option, language, paper.language)}
${isAnswerable && html`<p class="to-answer"><a href="${answerPath(quote, at + 1)}">${own.answerWith(letter)}</a></p>`}
</article>`;
}

function pricesPart(option: PaperOption, language: Language, contentLanguage: string): Html {
  const own = words[language];
  const { prices, taxes, totalCents } = option;
  const [label, beforeTaxCents] =
    prices.kind === 'separated'
      ? [own.subtotal, prices.subtotalCents]
      : [own.lumpSumPrice, prices.priceCents];
  return html`${prices.kind === 'lump_sum' && html`<p class="small">${own.lumpSumNote}</p>`}
<div lang="${contentLanguage}">${
    prices.kind === 'separated'
      ? prices.groups.map((group) => groupPart(group, pricedLine))
      : prices.groups.map((group) => groupPart(group, plainLine))
  }</div>
<dl class="sums">
${taxes.length > 0 && sumLine(label, beforeTaxCents)}
${taxes.map((tax) => sumLine(tax.label, tax.amountCents))}
<div class="row grand"><dt>${own.total}</dt><dd>${formatCents(totalCents)}</dd></div>
</dl>`;
}

function sumLine(label: string, amountCents: number): Html {
  return html`<div class="row"><dt>${label}</dt><dd>${formatCents(amountCents)}</dd></div>`;
}

function groupPart<L extends PaperLine>(
  { heading, lines }: PaperLineGroup<L>,
  line: (line: L) => Html,
): Html {
  return html`<h4>${heading}</h4>
<ul class="lines">${lines.map(line)}</ul>`;
}

function pricedLine(line: PaperPricedLine): Html {
  const { description, detail, amountCents } = line;
  const calculated = calculation(line);
  return html`<li><div class="line"><span>${description}</span> <span class="amount">${formatCents(amountCents)}</span></div>
${calculated !== '' && html`<p class="small figures">${calculated}</p>`}
${detail !== undefined && html`<p class="small">${withTimesSign(detail)}</p>`}</li>`;
}

function plainLine({ description, quantityText }: PaperLine): Html {
  return html`<li><div class="line"><span>${description}</span> <span class="amount">${quantityText}</span></div></li>`;
}

/** '2 × $151.00': what anyone can check with a pencil. */
function calculation({ quantityText, unitPriceCents }: PaperPricedLine): string {
  const price = unitPriceCents === undefined ? undefined : formatCents(unitPriceCents);
  return [quantityText, price].filter((each) => each !== undefined).join(' × ');
}
