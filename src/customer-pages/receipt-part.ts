import { formatCents } from '../documents/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { cancelPart } from './answer-part.ts';
import { optionName } from './consent-text.ts';
import type { TypedForm } from './forms.ts';
import { momentText } from './moment-text.ts';
import { acceptedAt, mayCancel, type No, paperIn, type QuoteAt, type Yes } from './quote-at.ts';
import { type Language, words } from './words.ts';

/** What was answered, when and by whom; undefined while there is no answer. */
export function receiptPart(
  quote: QuoteAt,
  language: Language,
  now: Date,
  failed?: TypedForm,
): HtmlValue {
  const { standing } = quote;
  if (standing.state === 'declined') return declinedReceipt(quote, standing.no, language);
  if (standing.state !== 'accepted') return undefined;
  const { yes } = standing;
  const at = acceptedAt(quote);
  const { timeZone } = quote.company;
  return html`${acceptedReceipt(quote, yes, at, language)}
${mayCancel(yes, now) && cancelPart(quote, { yes, at }, language, timeZone, failed)}`;
}

type Row = [label: string, value: string];

function acceptedReceipt(quote: QuoteAt, yes: Yes, at: number, language: Language): Html {
  const own = words[language].receipt;
  const { timeZone } = quote.company;
  const { cancellation } = yes;
  const rows: Row[] = [
    [own.what, optionName(quote, at, language)],
    [own.total, formatCents(yes.totalCents)],
    [own.who, yes.acceptedByName],
    [own.when, momentText(yes.acceptedAt, language, timeZone)],
    [own.how, own.through[yes.linkId === null ? 'staff' : 'link']],
    [own.fingerprint, shortHash(yes.contentHash)],
  ];
  const taken = receipt('accepted', own.accepted, own.acceptedLead, rows, own.keep);
  if (cancellation === null) return taken;
  const back: Row[] = [
    [own.who, cancellation.cancelledByName],
    [own.when, momentText(cancellation.cancelledAt, language, timeZone)],
    [own.how, own.through[cancellation.linkId === null ? 'staff' : 'link']],
  ];
  return html`${receipt('cancelled', own.cancelled, own.cancelledLead, back)}
${receipt('past', own.agreedTo, undefined, rows)}`;
}

function declinedReceipt(quote: QuoteAt, no: No, language: Language): Html {
  const own = words[language].receipt;
  const owedCents = paperIn(quote, language).decline.totalCents;
  const rows: Row[] = [
    [own.owed, formatCents(owedCents)],
    [own.who, no.declinedByName],
    [own.when, momentText(no.declinedAt, language, quote.company.timeZone)],
    [own.how, own.through[no.linkId === null ? 'staff' : 'link']],
  ];
  if (no.reason !== null) rows.push([own.reason, no.reason]);
  rows.push([own.fingerprint, shortHash(quote.contentHash)]);
  return receipt('declined', own.declined, own.declinedLead, rows, own.keep);
}

function receipt(
  kind: string,
  title: string,
  lead: string | undefined,
  rows: readonly Row[],
  keep?: string,
): Html {
  return html`<section class="receipt receipt-${kind}" aria-labelledby="receipt-${kind}">
<h2 id="receipt-${kind}">${title}</h2>
${lead !== undefined && html`<p>${lead}</p>`}
<dl>${rows.map(([label, value]) => html`<div><dt>${label}</dt><dd>${value}</dd></div>`)}</dl>
${keep !== undefined && html`<p class="small">${keep}</p>`}
</section>`;
}

/** Enough of a fingerprint to compare two papers by eye. */
export function shortHash(hash: string): string {
  return hash.slice(0, 12).replace(/(.{4})(?=.)/g, '$1 ');
}
