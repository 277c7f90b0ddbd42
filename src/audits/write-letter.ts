import type { PaperLanguage } from '../documents/index.ts';
import { type CorrectionMemo, creditedName, lineNames } from '../invoices/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { oneLine } from '../platform/one-line.ts';
import { dollarsText, pricingInputsSchema } from '../pricing/index.ts';
import { letterReason } from './letter-reasons.ts';

/** What is written to a customer, in the language of whoever pays. */
export interface WrittenLetter {
  readonly language: PaperLanguage;
  readonly text: string;
}

/**
 * The letter that goes with the memos of one flag: why, what is given back charge by charge as the
 * papers name them, and what is left to pay or is paid back. It holds no greeting: it goes
 * out in the mail of its memos, which has one, and whoever prints it adds their own.
 */
export async function writeLetter(
  tx: Tx,
  { ticketId, ruleCode }: { ticketId: string; ruleCode: string },
  memos: readonly CorrectionMemo[],
): Promise<WrittenLetter> {
  const [first] = memos;
  const { number, invoices } = await tx.ticket.findUniqueOrThrow({
    where: { id: ticketId },
    select: {
      number: true,
      invoices: {
        where: { id: first?.invoiceId ?? ticketId },
        select: { payer: { select: { language: true } } },
      },
    },
  });
  const language = invoices[0]?.payer.language === 'es' ? 'es' : 'en';
  const words = WORDS[language];
  const told: string[] = [];
  for (const memo of memos) told.push(await memoText(tx, memo, language));
  const text = [
    words.lookedAgain(number, letterReason(ruleCode)[language]),
    ...told,
    words.sorry,
  ].join('\n\n');
  return { language, text };
}

async function memoText(
  tx: Tx,
  { id, invoiceId, credited, totalCents, balanceCents }: CorrectionMemo,
  language: PaperLanguage,
): Promise<string> {
  const words = WORDS[language];
  const memo = await tx.creditMemo.findUniqueOrThrow({
    where: { id },
    select: { number: true, invoice: { select: { issue: { select: { number: true } } } } },
  });
  const lines: string[] = [];
  for (const { position, stated, lines: given } of credited) {
    // Where a job was one price for everything, its charges are named on no paper.
    if (stated === 'lump_sum') continue;
    const nameOf = (await namesOf(tx, invoiceId, position))[language];
    for (const line of given) {
      const name = creditedName(oneLine(nameOf(line)), line, { stated, language });
      lines.push(`- ${name}: ${dollarsText(line.amountCents)}`);
    }
  }
  const { number, invoice } = memo;
  const total = words.takenOff(number, invoice.issue?.number ?? 0, dollarsText(totalCents));
  return [...lines, total, leftText(words, balanceCents)].join('\n');
}

function leftText(words: (typeof WORDS)[PaperLanguage], balanceCents: number): string {
  if (balanceCents === 0) return words.nothingLeft;
  const amount = dollarsText(Math.abs(balanceCents));
  return balanceCents > 0 ? words.left(amount) : words.paidBack(amount);
}

async function namesOf(tx: Tx, invoiceId: string, position: number) {
  const { quoteId, inputs, rulesetVersion } = await tx.invoiceDocument.findUniqueOrThrow({
    where: { invoiceId_position: { invoiceId, position } },
  });
  return lineNames(
    tx,
    quoteId === null ? { inputs: pricingInputsSchema.parse(inputs), rulesetVersion } : { quoteId },
  );
}

const WORDS = {
  en: {
    lookedAgain: (ticket: number, reason: string) =>
      `We have gone over the bill for your job ${ticket} again. ${reason} We are putting that right:`,
    takenOff: (memo: number, invoice: number, total: string) =>
      `Credit memo ${memo} takes ${total} off invoice ${invoice}, tax included.`,
    left: (amount: string) => `That leaves ${amount} to pay.`,
    paidBack: (amount: string) =>
      `With that you have paid ${amount} more than you owe, and we pay it back.`,
    nothingLeft: 'That leaves nothing to pay.',
    sorry: 'We are sorry for the mistake.',
  },
  es: {
    lookedAgain: (ticket: number, reason: string) =>
      `Hemos revisado de nuevo la factura de su trabajo ${ticket}. ${reason} Lo corregimos así:`,
    takenOff: (memo: number, invoice: number, total: string) =>
      `La nota de crédito ${memo} descuenta ${total} de la factura ${invoice}, con impuestos incluidos.`,
    left: (amount: string) => `Quedan ${amount} por pagar.`,
    paidBack: (amount: string) =>
      `Con eso usted ha pagado ${amount} más de lo que debe, y se lo devolvemos.`,
    nothingLeft: 'No queda nada por pagar.',
    sorry: 'Lamentamos el error.',
  },
} as const;
