import { localMomentText } from '../company/index.ts';
import { countsAsFound, formatCents } from '../documents/index.ts';
import { dayText, type Language } from '../page-frame/index.ts';
import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import { cancelPart } from './answer-part.ts';
import { optionName } from './consent-text.ts';
import type { TypedForm } from './forms.ts';
import {
  acceptedAt,
  type Fallen,
  type Left,
  mayCancel,
  type No,
  paperIn,
  type QuoteAt,
  type Yes,
} from './quote-at.ts';
import { togetherWith, whatANoMeans } from './what-a-no-means.ts';
import { words } from './words.ts';

/** What was answered, when and by whom; undefined while there is no answer. */
export function receiptPart(
  quote: QuoteAt,
  language: Language,
  now: Date,
  failed?: TypedForm,
): HtmlValue {
  const { standing } = quote;
  if (standing.state === 'declined') return declinedReceipt(quote, standing, language);
  if (standing.state !== 'accepted') return undefined;
  const { yes } = standing;
  const at = acceptedAt(quote);
  const { timeZone } = quote.company;
  return html`${acceptedReceipt(quote, { ...standing, at }, language)}
${mayCancel(yes, now) && cancelPart(quote, { yes, at }, language, timeZone, failed)}`;
}

type Row = [label: string, value: string];

interface Accepted {
  yes: Yes;
  at: number;
  fallen: Fallen;
}

function acceptedReceipt(quote: QuoteAt, { yes, at, fallen }: Accepted, language: Language): Html {
  const own = words[language].receipt;
  const { timeZone } = quote.company;
  const { cancellation } = yes;
  const rows: Row[] = [
    [own.what, optionName(quote, at, language)],
    [words[language].withTax, formatCents(yes.totalCents)],
    ...togetherRow(quote, yes, language),
    [own.who, yes.acceptedByName],
    [own.when, localMomentText(yes.acceptedAt, timeZone, language)],
    [own.how, own.through[yes.linkId === null ? 'staff' : 'link']],
    [own.fingerprint, shortHash(yes.contentHash)],
  ];
  const taken = receipt(
    'accepted',
    titled(quote, 'accepted', yes.link, language),
    leadOf(quote, yes, at, language),
    rows,
    keepText(quote, 'accepted', language),
  );
  if (cancellation === null) return taken;
  const back: Row[] = [
    ...rowOf(own.who, mayKnow(quote, cancellation.link) ? cancellation.cancelledByName : null),
    [own.when, localMomentText(cancellation.cancelledAt, timeZone, language)],
    [own.how, own.through[cancellation.linkId === null ? 'staff' : 'link']],
  ];
  return html`${receipt(
    'cancelled',
    titled(quote, 'cancelled', cancellation.link, language),
    mayKnow(quote, cancellation.link) ? whatIsLeft(quote, fallen, language) : own.cancelledLead,
    back,
  )}
${receipt('past', isOwn(quote, yes.link) ? own.agreedTo : own.byOther.accepted, undefined, rows)}`;
}

/** What was agreed, and what comes next where nobody of ours was there to say it. */
function leadOf(quote: QuoteAt, yes: Yes, at: number, language: Language): string {
  const own = words[language].receipt;
  if (!quote.isChange && quote.options[at]?.isVisitOnly) return own.visitOnlyLead;
  const isAhead = quote.hasPart && quote.isWorkAhead && yes.linkId !== null;
  return isAhead ? `${own.acceptedLead} ${own.next}` : own.acceptedLead;
}

/** Whether a link is of the person who looks, or no link at all: then our staff wrote it down. */
function isOwn({ link }: QuoteAt, by: By): boolean {
  return by === null || by.holderId === link.holderId;
}

type By = { holderId: string } | null;

/** Who has no part any more is told what they answered themselves, and no name but their own. */
function mayKnow(quote: QuoteAt, by: By): boolean {
  return quote.hasPart || (by !== null && isOwn(quote, by));
}

function titled(
  quote: QuoteAt,
  kind: 'accepted' | 'declined' | 'cancelled',
  by: By,
  language: Language,
): string {
  const own = words[language].receipt;
  return isOwn(quote, by) && mayKnow(quote, by) ? own[kind] : own.byOther[kind];
}

/** A change comes on top of what it changes, as long as both stand. */
function togetherRow(quote: QuoteAt, yes: Yes, language: Language): Row[] {
  const together = togetherWith(quote, yes.totalCents, language);
  return together === undefined || yes.cancellation !== null
    ? []
    : [[together.name, together.total]];
}

/** What is owed and what else fell, once a yes was taken back. */
function whatIsLeft(quote: QuoteAt, { changes, wasBilled }: Fallen, language: Language): string {
  const own = words[language].receipt;
  const { owedCents, sentence } = whatANoMeans(quote, language);
  const owes = owedCents === 0 ? own.owesNothing : own.owes(formatCents(owedCents ?? 0));
  return [
    own.cancelledLead,
    ...(quote.hasPart ? changes : []).map(({ number, totalCents }) =>
      own.fallen(String(number), formatCents(totalCents)),
    ),
    ...(wasBilled ? [own.credited] : []),
    owedCents === undefined ? sentence : owes,
  ].join(' ');
}

function keepText(
  { link, company }: QuoteAt,
  answer: 'accepted' | 'declined',
  language: Language,
): string {
  const { receipt: own, answerPaper, paper } = words[language];
  const day = dayText(link.opensUntil, language, company.timeZone);
  return own.keep(day, answerPaper[answer], paper);
}

/** A row of what is known; nothing where nothing is. */
function rowOf(label: string, value: string | null | undefined): Row[] {
  return value ? [[label, value]] : [];
}

interface Declined {
  no: No;
  left: Left | undefined;
}

/** What was said with the no itself, before anything came of it. */
function saidWithIt({ conditionLeft, dangerWarned }: No): Left | undefined {
  return conditionLeft === null ? undefined : { condition: conditionLeft, danger: dangerWarned };
}

function declinedReceipt(quote: QuoteAt, { no, left }: Declined, language: Language): Html {
  const own = words[language].receipt;
  const { owedCents, sentence } = whatANoMeans(quote, language);
  const found = paperIn(quote, language)
    .findings.map(({ name, standing }) =>
      // What the evidence does not carry is not said to be found without saying so.
      countsAsFound(standing)
        ? name
        : `${name} (${words[language].standing[standing].toLowerCase()})`,
    )
    .join('; ');
  const known = quote.hasPart ? left : saidWithIt(no);
  const rows: Row[] = [
    ...rowOf(own.owed, owedCents === undefined ? undefined : formatCents(owedCents)),
    ...rowOf(own.found, found),
    ...rowOf(own.left, known?.condition),
    ...rowOf(own.danger, known?.danger),
    [own.who, no.declinedByName],
    [own.when, localMomentText(no.declinedAt, quote.company.timeZone, language)],
    [own.how, own.through[no.linkId === null ? 'staff' : 'link']],
    ...rowOf(own.reason, no.reason),
    [own.fingerprint, shortHash(quote.contentHash)],
  ];
  const lead = owedCents === undefined ? sentence : own.declinedLead;
  return receipt(
    'declined',
    titled(quote, 'declined', no.link, language),
    lead,
    rows,
    keepText(quote, 'declined', language),
  );
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
