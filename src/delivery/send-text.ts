import { subscribe, unsubscribe } from 'node:diagnostics_channel';
import type { Outcome } from './outcome.ts';
import { serverWords } from './server-words.ts';

/** Whoever passes short texts on: one address that takes one HTTP request for each. */
export interface TextGateway {
  url: string;
  /** Sent as a bearer token, where the gateway asks for one. */
  token?: string | undefined;
  timeoutMs?: number;
}

export interface ShortText {
  /** The delivery's: a repeated text has the same one. */
  id: string;
  to: string;
  text: string;
}

const TIMEOUT_MS = 30_000;
/** Not taken, and later may be better (RFC 9110, 15.5.9 and 15.6.4; RFC 8470, 5.2; RFC 6585, 4). */
const LATER = [408, 425, 429, 503];
/**
 * Where Node's `fetch` tells that it got no connection, over TLS none before its handshake is done:
 * its errors alone do not say whether the request had left by then.
 */
const NO_CONNECTION = 'undici:client:connectError';

/**
 * Hands one text to the gateway. The port asks of a gateway that it sends one text for each
 * `Idempotency-Key` however often it is asked, so whatever was not answered is asked again.
 */
export async function sendText(
  gateway: TextGateway,
  text: ShortText,
  signal: AbortSignal,
): Promise<Outcome> {
  if (signal.aborted) return { outcome: 'try_again', reason: 'The attempt was ended.' };
  const notReached = new Set<unknown>();
  const note = (told: unknown) => notReached.add((told as { error: unknown }).error);
  subscribe(NO_CONNECTION, note);
  try {
    const response = await fetch(gateway.url, {
      method: 'POST',
      // An address that moved is for whoever set it up, not for a customer's phone number to follow.
      redirect: 'manual',
      headers: {
        'content-type': 'application/json; charset=utf-8',
        'idempotency-key': text.id,
        ...(gateway.token !== undefined && { authorization: `Bearer ${gateway.token}` }),
      },
      body: JSON.stringify(text),
      signal: AbortSignal.any([signal, AbortSignal.timeout(gateway.timeoutMs ?? TIMEOUT_MS)]),
    });
    return await outcomeOf(response, text.to);
  } catch (error) {
    const why = serverWords(causeOf(error), text.to);
    return notReached.has((error as Error).cause)
      ? { outcome: 'try_again', reason: `The text gateway could not be reached: ${why}` }
      : { outcome: 'ask_again', reason: `The text gateway did not answer: ${why}` };
  } finally {
    unsubscribe(NO_CONNECTION, note);
  }
}

async function outcomeOf(response: Response, to: string): Promise<Outcome> {
  const { status } = response;
  if (response.ok) {
    // Its yes stands, whatever else it wanted to say.
    await response.body?.cancel().catch(() => undefined);
    return { outcome: 'sent' };
  }
  const words = await beginningOf(response).catch(() => '');
  const said = serverWords(`${status} ${words}`, to);
  if (LATER.includes(status)) {
    return {
      outcome: 'try_again',
      reason: `The text gateway did not take it: ${said}`,
      answerCode: status,
    };
  }
  // It broke on the way, or somebody between us and it gave up waiting: before or after it sent it.
  if (status >= 500) {
    return {
      outcome: 'ask_again',
      reason: `The text gateway broke off: ${said}`,
      answerCode: status,
    };
  }
  return {
    outcome: 'refused',
    reason: `The text gateway refused it: ${said}`,
    answerCode: status,
  };
}

/** The first piece of what it said; nobody reads more of it. */
async function beginningOf(response: Response): Promise<string> {
  const reader = response.body?.getReader();
  if (reader === undefined) return '';
  try {
    const { value } = await reader.read();
    return value === undefined ? '' : new TextDecoder().decode(value.subarray(0, 1_000));
  } finally {
    await reader.cancel();
  }
}

function causeOf(error: unknown): string {
  const { message, cause } = error as Error & { cause?: { code?: string } };
  return cause?.code ?? message;
}
