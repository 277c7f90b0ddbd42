import { type MemoMail, mailOfMemo } from '../audits/index.ts';
import { PaperRefused } from '../documents/index.ts';
import { readMoney } from '../invoices/index.ts';
import { draftText } from '../quote-links/index.ts';
import type { Claimed } from './claim-delivery.ts';
import type { DeliveryDeps, SourcePaper } from './delivery-deps.ts';
import { type DeliveryJob, deliveryJob, undeliverable } from './delivery-job.ts';
import { handOver } from './hand-over.ts';
import type { Standing } from './letter.ts';
import { letterText } from './letter-text.ts';
import { type Linked, linkForDelivery, type NoLink } from './link-for-delivery.ts';
import type { HandingOver, Outcome, RawMail } from './outcome.ts';
import { sendText } from './send-text.ts';
import { serverWords } from './server-words.ts';
import { settleAgain } from './settle-again.ts';
import type { Attempt } from './settle-delivery.ts';
import { standingOf } from './standing-of.ts';
import { writeEml } from './write-eml.ts';

/** What runs beside one attempt. */
export interface Running {
  /** Ends the attempt as soon as nothing is lost by it. */
  signal: AbortSignal;
  /** Called when the mail is handed over: from then on there is only its answer to wait for. */
  onHandedOver(): void;
  isStopping(): boolean;
}

/**
 * One attempt at one delivery, from the claim to what became of it. Whatever breaks on the way is an
 * outcome too: nothing that was claimed is forgotten.
 */
export async function deliverOne(
  deps: DeliveryDeps,
  claimed: Claimed,
  running: Running,
): Promise<void> {
  const course: Course = { claimed, channel: 'mail', carried: false, address: '' };
  const outcome = await attempt(deps, course, running).catch((error: unknown): Outcome => {
    const at = framesOf(error);
    deps.log.warn({ deliveryId: claimed.id, at }, 'a delivery could not be prepared');
    return failedHere(error, course);
  });
  if (outcome.outcome !== 'sent') {
    const { outcome: what, reason } = outcome;
    deps.log.warn({ deliveryId: claimed.id, outcome: what, reason }, 'a delivery did not go out');
  }
  await deps.atStep?.('carried');
  const { carried: _, address: __, ...rest } = course;
  const written = await settleAgain(
    deps,
    { ...rest, stopped: running.isStopping() && running.signal.aborted },
    outcome,
    running.signal,
  );
  if (!written) deps.log.warn({ deliveryId: claimed.id }, 'another worker has this delivery now');
  await deps.atStep?.('settled');
}

/** What is known of the attempt so far. */
interface Course extends Omit<Attempt, 'stopped'> {
  /** The mail was marked as handed over. */
  carried: boolean;
  /** Of whoever it is for, which no reason may name. */
  address: string;
}

async function attempt(deps: DeliveryDeps, course: Course, running: Running): Promise<Outcome> {
  await deps.atStep?.('claimed');
  const job = await deliveryJob(deps.db.prisma, course.claimed.id);
  course.channel = job.channel;
  course.address = (job.channel === 'text' ? job.customer.phone : job.customer.email)?.trim() ?? '';
  const hindrance = undeliverable(job);
  if (hindrance !== undefined) return { outcome: 'refused', reason: hindrance };
  const source = await deps.papers.read(job.paperId, job.language === 'es' ? 'es' : 'en');
  await deps.atStep?.('drawn');
  const linked = await linkForDelivery(deps, course.claimed, job);
  if (linked === undefined) return ENDED;
  course.claimed = linked.claimed;
  if (typeof linked.link !== 'string') course.linkId = linked.link.id;
  await deps.atStep?.('linked');
  return job.channel === 'text'
    ? carryText(deps, course, job, { source, linked, running })
    : carryMail(deps, course, job, { source, linked, running });
}

interface Load {
  source: SourcePaper;
  linked: Linked;
  running: Running;
}

async function carryMail(
  deps: DeliveryDeps,
  course: Course,
  job: DeliveryJob,
  { source, linked: { link }, running }: Load,
): Promise<Outcome> {
  const { company } = source.paper.paper;
  const to = job.customer.email?.trim() ?? '';
  const from = deps.mailFrom ?? company.email;
  const messageId = job.state?.messageId ?? `<${job.id}@${domainOf(from)}>`;
  const { invoiceId, memoId } = job.paper;
  const money = invoiceId === null ? undefined : await readMoney(deps.db.prisma, invoiceId);
  const memoMail = memoId === null ? undefined : await mailOfMemo(deps.db.prisma, memoId);
  const written = memoMail?.letter;
  const others = await readOthers(deps, memoMail, source);
  const letter = letterText({
    paper: source.paper,
    toName: job.customer.name,
    standing: await standingNow(deps, job, link),
    money,
    others: others.flatMap(({ paper }) => (paper.kind === 'credit_memo' ? [paper.paper] : [])),
    // Somebody who reads another language than the payer has the memo's own words in theirs.
    written: written?.language === source.paper.paper.language ? written.text : undefined,
    ...(typeof link !== 'string' && { link: { url: addressOf(deps, link.path) } }),
  });
  // Nothing that writes or sends mail is loaded before there is one.
  const { composeMail } = await import('./compose-mail.ts');
  const bytes = await composeMail(letter, [source, ...others], {
    from: { name: company.name, address: from },
    to: { name: job.customer.name, address: to },
    ...(from !== company.email && { replyTo: { name: company.name, address: company.email } }),
    messageId,
    date: deps.clock.now(),
  });
  await deps.atStep?.('composed');
  const marked = async () => {
    const isOurs = await handOver(deps, course.claimed, { sentTo: to, messageId });
    if (!isOurs) return false;
    course.claimed = { ...course.claimed, version: course.claimed.version + 1 };
    course.carried = true;
    running.onHandedOver();
    await deps.atStep?.('handed_over');
    return true;
  };
  course.sentTo = to;
  course.messageId = messageId;
  return carry(deps, job.id, { from, to, bytes }, { handOver: marked, signal: running.signal });
}

/** The other papers of a mail, in the language of the first. */
async function readOthers(
  { papers }: DeliveryDeps,
  memoMail: MemoMail | undefined,
  { paper }: SourcePaper,
): Promise<SourcePaper[]> {
  const others: SourcePaper[] = [];
  for (const id of memoMail?.otherPaperIds ?? []) {
    others.push(await papers.read(id, paper.paper.language));
  }
  return others;
}

/**
 * How the quote stands when the mail is written: an answer that came while its paper was drawn is
 * why there is no link by now.
 */
async function standingNow(
  { db, clock }: DeliveryDeps,
  { id, paper }: DeliveryJob,
  link: Linked['link'],
): Promise<Standing | undefined> {
  // The link was made while the quote waited, and opens a page that says how it stands.
  if (typeof link !== 'string') return standingOf(paper.revision, clock.now());
  const now = await deliveryJob(db.prisma, id);
  return standingOf(now.paper.revision, clock.now());
}

async function carry(
  { mail }: DeliveryDeps,
  id: string,
  raw: RawMail,
  handing: HandingOver,
): Promise<Outcome> {
  switch (mail.kind) {
    case 'smtp': {
      const { sendBySmtp } = await import('./send-by-smtp.ts');
      return sendBySmtp(mail.server, raw, handing);
    }
    case 'files':
      return writeEml(mail.directory, `${id}.eml`, raw, handing);
  }
}

async function carryText(
  deps: DeliveryDeps,
  course: Course,
  { id, customer, state }: DeliveryJob,
  { source, linked: { link }, running }: Load,
): Promise<Outcome> {
  if (deps.text === undefined) {
    return { outcome: 'refused', reason: NO_GATEWAY };
  }
  const { paper } = source.paper;
  const goneTo = state?.sentTo ?? customer.phone;
  if (goneTo !== customer.phone) return { outcome: 'refused', reason: OTHER_NUMBER };
  if (typeof link === 'string') return { outcome: 'refused', reason: WITHOUT_LINK[link] };
  if (source.paper.kind !== 'quote') return { outcome: 'refused', reason: WITHOUT_LINK.no_quote };
  const text = draftText({
    language: paper.language,
    companyName: paper.company.name,
    quoteNumber: source.paper.paper.quoteNumber,
    url: addressOf(deps, link.path),
  });
  await deps.atStep?.('composed');
  course.sentTo = customer.phone;
  return sendText(deps.text, { id, to: customer.phone, text }, running.signal);
}

/** Where it failed. What an error says may name an address, and is told without it below. */
function framesOf(error: unknown): string[] {
  const lines = error instanceof Error ? (error.stack ?? '').split('\n') : [];
  return lines.filter((line) => /^ {4}at /.test(line)).map((line) => line.trim());
}

/** Something of ours broke. What is marked as handed over by then may have gone on its way. */
function failedHere(error: unknown, { carried, address }: Course): Outcome {
  const why = serverWords(error instanceof Error ? error.message : String(error), address);
  // However often it is drawn, it stays as it is: somebody has to look at it.
  if (error instanceof PaperRefused) {
    return { outcome: 'refused', reason: `The paper contradicts itself: ${why}` };
  }
  const reason = `It could not be prepared: ${why}`;
  return carried ? { outcome: 'unsure', reason } : { outcome: 'try_again', reason };
}

const NO_GATEWAY =
  'No text gateway is set up: TEXT_GATEWAY_URL is empty. Make a link of the quote instead: it comes ' +
  'with the words of a text, to be sent from any phone.';

/** A key is that of one number: under it the gateway may have sent to the old one. */
const OTHER_NUMBER = 'The number on file is another one by now.';

/** Why there is nothing to put into a text. */
const WITHOUT_LINK: Record<NoLink, string> = {
  nothing_to_answer: 'There is nothing to answer any more.',
  not_theirs: 'They do not answer for this site: send it to whoever approves or pays.',
  no_quote: 'Only a quote can be sent as a text.',
  no_public_address: 'A text is a link, and nobody reaches us from outside: PUBLIC_URL is empty.',
};

const ENDED: Outcome = { outcome: 'try_again', reason: 'The attempt was ended.' };

function addressOf({ publicUrl = '' }: DeliveryDeps, path: string): string {
  return `${publicUrl.replace(/\/$/, '')}${path}`;
}

function domainOf(address: string): string {
  return address.slice(address.lastIndexOf('@') + 1);
}
