import { setTimeout as wait } from 'node:timers/promises';
import type { NodemailerError } from 'nodemailer/lib/errors';
import { parseConnectionUrl } from 'nodemailer/lib/shared';
import SMTPConnection, {
  type AuthenticationType,
  type Options,
} from 'nodemailer/lib/smtp-connection';
import { heldBackMessage } from './held-back-message.ts';
import type { HandingOver, Outcome, RawMail } from './outcome.ts';
import { BROKE_OFF, type SmtpPhase, smtpOutcome } from './smtp-outcome.ts';

/** A server to hand mail to, and how long to wait for it. */
export interface SmtpServer {
  /** `smtp://` or `smtps://`, with name and password where it asks for them. */
  url: string;
  timeouts?: Partial<SmtpTimeouts>;
}

export interface SmtpTimeouts {
  connectMs: number;
  /** For each answer before the end of the mail, and for the server to go on reading. */
  stepMs: number;
  /** For the answer to the whole mail. */
  finalAnswerMs: number;
}

/**
 * A minute is patient for one step. The last answer gets the ten minutes of RFC 5321, 4.5.3.2.6:
 * servers look through a mail before they take it, and whoever leaves earlier never knows.
 */
const TIMEOUTS: SmtpTimeouts = { connectMs: 30_000, stepMs: 60_000, finalAnswerMs: 600_000 };

/**
 * Sends one mail to one address. Everything but its end goes out; then the mail is marked as handed
 * over; then the end follows. Whatever fails before the mark has not arrived, and whatever fails
 * after it, without the server's own no, may have.
 */
export function sendBySmtp(
  server: SmtpServer,
  mail: RawMail,
  handing: HandingOver,
): Promise<Outcome> {
  const timeouts = { ...TIMEOUTS, ...server.timeouts };
  const { auth, ...options } = connectionOptions(server.url, timeouts);
  const connection = new SMTPConnection(options);
  return new Promise((resolve) => {
    let settled = false;
    let phase: SmtpPhase = 'before_the_end';
    let marking: Promise<unknown> = Promise.resolve();
    let ended = false;

    const settle = (outcome: Outcome) => {
      if (settled) return;
      settled = true;
      handing.signal.removeEventListener('abort', giveUp);
      if (outcome.outcome === 'sent') sayGoodbye(connection);
      else connection.close();
      // A mark on its way is waited for: whoever writes the outcome down must find it written.
      void marking.finally(() => resolve(outcome));
    };
    const fail = (error: NodemailerError) => settle(smtpOutcome(error, phase, mail.to));
    const giveUp = () => fail(new Error('the attempt was ended'));

    const mayEnd = async () => {
      await emptied(connection, () => settled);
      if (settled) return false;
      phase = 'end_may_have_left';
      const mark = handing.handOver();
      marking = mark.catch(() => undefined);
      const isOurs = await mark.catch((error: unknown) => {
        // Without a mark the end stays here, whatever the database thinks of it.
        phase = 'before_the_end';
        throw error;
      });
      if (!isOurs) phase = 'before_the_end';
      if (settled || !isOurs) return false;
      if (connection._socket) connection._socket.setTimeout(timeouts.finalAnswerMs);
      ended = true;
      return true;
    };
    const send = () => {
      const message = heldBackMessage(mail.bytes, mayEnd);
      const envelope = { from: mail.from, to: [mail.to], size: mail.bytes.length };
      connection.send(envelope, message, (error, info) => {
        if (error) return fail(error);
        settle(answered(info?.response ?? '', { phase, ended }));
      });
    };

    if (handing.signal.aborted) return giveUp();
    handing.signal.addEventListener('abort', giveUp);
    connection.on('error', fail);
    connection.once('end', () => fail(closedError()));
    connection.connect((error) => {
      if (error) return fail(error);
      if (auth === undefined) return send();
      connection.login(auth, (refused) => (refused ? fail(refused) : send()));
    });
  });
}

function connectionOptions(url: string, timeouts: SmtpTimeouts) {
  const given: Options & { auth?: AuthenticationType | undefined } = parseConnectionUrl(url);
  return {
    ...given,
    // A password goes over no open line, unless whoever set the server up says so.
    requireTLS: given.requireTLS ?? (given.auth !== undefined && given.ignoreTLS !== true),
    connectionTimeout: timeouts.connectMs,
    greetingTimeout: timeouts.stepMs,
    socketTimeout: timeouts.stepMs,
    dnsTimeout: timeouts.connectMs,
    socketCloseTimeout: 1_000,
    // The library counts a server on this machine as unreachable unless told otherwise.
    allowInternalNetworkInterfaces: true,
    logger: false,
  };
}

/** A yes counts only when it answers the whole mail. */
function answered(
  response: string,
  { phase, ended }: { phase: SmtpPhase; ended: boolean },
): Outcome {
  if (ended && /^2\d\d(?:[ -]|$)/.test(response)) return { outcome: 'sent' };
  if (phase === 'end_may_have_left') return { outcome: 'unsure', reason: BROKE_OFF };
  return {
    outcome: 'try_again',
    reason: 'The mail server answered before it had the whole mail.',
  };
}

/**
 * Waits until nothing of ours waits in this process any more, so that as little as possible can go
 * wrong between the mark and the answer. Two quiet looks in a row, because the library's own stream
 * fills the socket again between them.
 */
async function emptied(connection: SMTPConnection, isOver: () => boolean): Promise<void> {
  for (let quiet = 0; quiet < 2 && !isOver(); ) {
    await wait(LOOK_EVERY_MS);
    const socket = connection._socket;
    quiet = socket && socket.writableLength === 0 ? quiet + 1 : 0;
  }
}

const LOOK_EVERY_MS = 2;

function sayGoodbye(connection: SMTPConnection): void {
  connection.quit();
  // Whoever does not answer a goodbye is left without one.
  setTimeout(() => connection.close(), 2_000).unref();
}

function closedError(): NodemailerError {
  return Object.assign(new Error('the connection was closed'), { code: 'ECONNECTION' });
}
