import type { NodemailerError } from 'nodemailer/lib/errors';
import type { Outcome } from './outcome.ts';
import { serverWords } from './server-words.ts';

/** Whether the end of the mail, without which no server has it, may have left. */
export type SmtpPhase = 'before_the_end' | 'end_may_have_left';

/**
 * What a failure means. Before the end has left nothing can have arrived; after it only the
 * server's own answer to the whole mail says that it did not (RFC 5321, 4.2.5).
 * @param to the address the mail was for, which is kept out of the reason
 */
export function smtpOutcome(error: NodemailerError, phase: SmtpPhase, to: string): Outcome {
  const code = error.responseCode;
  const said = serverWords(error.response ?? error.message, to);
  if (phase === 'end_may_have_left') return afterTheEnd(error, code, said);
  if (isAboutThisMail(error) && isPermanent(code)) {
    return { outcome: 'refused', reason: `The mail server refused it: ${said}`, answerCode: code };
  }
  if (isOurOwnCheck(error)) {
    return { outcome: 'refused', reason: `It cannot be mailed: ${said}` };
  }
  return {
    outcome: 'try_again',
    reason: `${whatFailed(error)}: ${said}`,
    ...(code !== undefined && { answerCode: code }),
  };
}

function afterTheEnd(error: NodemailerError, code: number | undefined, said: string): Outcome {
  if (error.code === 'EMESSAGE' && isPermanent(code)) {
    return { outcome: 'refused', reason: `The mail server refused it: ${said}`, answerCode: code };
  }
  if (error.code === 'EMESSAGE' && isTemporary(code)) {
    return {
      outcome: 'try_again',
      reason: `The mail server did not take it: ${said}`,
      answerCode: code,
    };
  }
  return { outcome: 'unsure', reason: BROKE_OFF };
}

/** Where nobody knows, and a person has to ask. */
export const BROKE_OFF =
  'The server took the message and broke off before it answered: it may have arrived. Ask, then ' +
  'send it again.';

// A no to the greeting, to our name or to our password is about us: it is mended here, and then
// everything that waits goes out. The codes are those of RFC 4954 and RFC 3207 that may come later.
const ABOUT_US = [530, 534, 535, 538];

function isAboutThisMail({ command, responseCode }: NodemailerError): boolean {
  return (
    (command === 'MAIL FROM' || command === 'RCPT TO' || command === 'DATA') &&
    !ABOUT_US.includes(responseCode ?? 0)
  );
}

/** An address that fits in no envelope, or a mail above the size the server told in advance. */
function isOurOwnCheck({ code, command, response }: NodemailerError): boolean {
  if (response !== undefined) return false;
  return code === 'EENVELOPE' || (code === 'EMESSAGE' && command === 'MAIL FROM');
}

function whatFailed(error: NodemailerError): string {
  if (isAboutTheCertificate(error)) return 'The certificate of the mail server does not hold';
  if (ABOUT_US.includes(error.responseCode ?? 0)) return 'The mail server did not let us in';
  switch (error.code) {
    case 'EDNS':
    case 'ESOCKET':
    case 'ECONNECTION':
      return 'The mail server could not be reached or broke off';
    case 'ETIMEDOUT':
      return 'The mail server did not answer in time';
    case 'ETLS':
      return 'The mail server could not be talked to under encryption';
    case 'EAUTH':
      return 'The mail server did not let us in';
    default:
      return 'The mail server did not take it';
  }
}

// The library keeps of such an error what Node says about it, and none of its codes.
function isAboutTheCertificate({ code, response, message }: NodemailerError): boolean {
  const isOurs = response === undefined && (code === 'ESOCKET' || code === 'ETLS');
  return isOurs && /\bcertificate\b/i.test(message);
}

function isPermanent(code: number | undefined): code is number {
  return code !== undefined && code >= 500 && code <= 599;
}

function isTemporary(code: number | undefined): code is number {
  return code !== undefined && code >= 400 && code <= 499;
}
