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
  return new Promise((resolve) => new Sending(server, mail, handing, resolve).begin());
}

/** One mail on its way to a server. */
class Sending {
  readonly #mail: RawMail;
  readonly #handing: HandingOver;
  readonly #resolve: (outcome: Outcome) => void;
  readonly #timeouts: SmtpTimeouts;
  readonly #auth: AuthenticationType | undefined;
  readonly #connection: SMTPConnection;
  #phase: SmtpPhase = 'before_the_end';
  #marking: Promise<unknown> = Promise.resolve();
  #isEnded = false;
  #isSettled = false;

  constructor(
    server: SmtpServer,
    mail: RawMail,
    handing: HandingOver,
    resolve: (outcome: Outcome) => void,
  ) {
    this.#mail = mail;
    this.#handing = handing;
    this.#resolve = resolve;
    this.#timeouts = { ...TIMEOUTS, ...server.timeouts };
    const { auth, ...options } = connectionOptions(server.url, this.#timeouts);
    this.#auth = auth;
    this.#connection = new SMTPConnection(options);
  }

  begin(): void {
    const { signal } = this.#handing;
    if (signal.aborted) {
      this.#giveUp();
      return;
    }
    signal.addEventListener('abort', this.#giveUp);
    this.#connection.on('error', this.#fail);
    this.#connection.once('end', () => this.#fail(closedError()));
    this.#connection.connect((error) => (error ? this.#fail(error) : this.#logIn()));
  }

  #logIn(): void {
    const then = (error: NodemailerError | null) => (error ? this.#fail(error) : this.#send());
    if (this.#auth === undefined) then(null);
    else this.#connection.login(this.#auth, then);
  }

  #send(): void {
    const { from, to, bytes } = this.#mail;
    const message = heldBackMessage(bytes, () => this.#mayEnd());
    const envelope = { from, to: [to], size: bytes.length };
    this.#connection.send(envelope, message, (error, info) => {
      if (error) return this.#fail(error);
      this.#settle(answered(info?.response ?? '', { phase: this.#phase, ended: this.#isEnded }));
    });
  }

  /** Marks the mail once all but its end has left; only then may that follow. */
  async #mayEnd(): Promise<boolean> {
    await emptied(this.#connection, () => this.#isSettled);
    if (this.#isSettled) return false;
    const isOurs = await this.#mark();
    if (!isOurs) this.#phase = 'before_the_end';
    if (this.#isSettled || !isOurs) return false;
    const socket = this.#connection._socket;
    if (socket) socket.setTimeout(this.#timeouts.finalAnswerMs);
    this.#isEnded = true;
    return true;
  }

  async #mark(): Promise<boolean> {
    this.#phase = 'end_may_have_left';
    const mark = this.#handing.handOver();
    this.#marking = mark.catch(() => undefined);
    return mark.catch((error: unknown) => {
      // Without a mark the end stays here, whatever the database thinks of it.
      this.#phase = 'before_the_end';
      throw error;
    });
  }

  readonly #giveUp = (): void => this.#fail(new Error('the attempt was ended'));

  readonly #fail = (error: NodemailerError): void => {
    this.#settle(smtpOutcome(error, this.#phase, this.#mail.to));
  };

  #settle(outcome: Outcome): void {
    if (this.#isSettled) return;
    this.#isSettled = true;
    this.#handing.signal.removeEventListener('abort', this.#giveUp);
    if (outcome.outcome === 'sent') sayGoodbye(this.#connection);
    else this.#connection.close();
    // A mark on its way is waited for: whoever writes the outcome down must find it written.
    void this.#marking.finally(() => this.#resolve(outcome));
  }
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
