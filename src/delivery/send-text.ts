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
/** Later may be better: too slow, too many (RFC 9110, 15.5.9; RFC 6585, 4). */
const LATER = [408, 425, 429];

/**
 * Hands one text to the gateway. The port asks of a gateway that it sends a text once however often
 * it is asked with the same `Idempotency-Key`, so whatever was not answered is asked again.
 */
export async function sendText(
  gateway: TextGateway,
  text: ShortText,
  signal: AbortSignal,
): Promise<Outcome> {
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
    return { outcome: 'try_again', reason: `The text gateway could not be reached: ${why}` };
  }
}

async function outcomeOf(response: Response, to: string): Promise<Outcome> {
  const { status } = response;
  if (response.ok) {
    await response.body?.cancel();
    return { outcome: 'sent' };
  }
  const said = serverWords(`${status} ${await beginningOf(response)}`, to);
  if (status >= 500 || LATER.includes(status)) {
    return {
      outcome: 'try_again',
      reason: `The text gateway did not take it: ${said}`,
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
