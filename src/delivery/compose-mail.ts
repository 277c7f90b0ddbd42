import MailComposer from 'nodemailer/lib/mail-composer';
import { oneLine } from '../platform/one-line.ts';
import type { LetterText } from './letter.ts';

/** Who writes to whom, and when. */
export interface Envelope {
  from: Mailbox;
  to: Mailbox;
  /** Where an answer goes, if not to whoever it is from. */
  replyTo?: Mailbox | undefined;
  /** The same for every attempt, so that a mailbox that gets it twice shows it once. */
  messageId: string;
  date: Date;
}

export interface Mailbox {
  name: string;
  address: string;
}

/**
 * The whole mail as bytes (RFC 5322, MIME): plain text and its papers as PDFs. The same letter with
 * the same envelope gives the same bytes.
 */
export function composeMail(
  letter: LetterText,
  papers: readonly { pdf: Uint8Array; fileName: string }[],
  { from, to, replyTo, messageId, date }: Envelope,
): Promise<Uint8Array> {
  return new MailComposer({
    from: cleanMailbox(from),
    to: cleanMailbox(to),
    ...(replyTo !== undefined && { replyTo: cleanMailbox(replyTo) }),
    subject: oneLine(letter.subject),
    date,
    messageId,
    headers: {
      // So that an absence note of the customer answers nobody (RFC 3834).
      'Auto-Submitted': 'auto-generated',
      'Content-Language': letter.language,
    },
    text: letter.text,
    attachments: papers.map(({ pdf, fileName }) => ({
      filename: fileName,
      content: Buffer.from(pdf),
      contentType: 'application/pdf',
    })),
    baseBoundary: idOf(messageId),
    newline: 'win',
    disableFileAccess: true,
    disableUrlAccess: true,
  })
    .compile()
    .build();
}

/**
 * The delivery's own id, without the domain: a boundary has 70 letters at most (RFC 2046, 5.1.1), and
 * a domain may be longer than that.
 */
function idOf(messageId: string): string {
  const [id = ''] = messageId.split('@');
  return id.replace(/\W/g, '');
}

function cleanMailbox({ name, address }: Mailbox): Mailbox {
  return { name: oneLine(name), address: oneLine(address) };
}
