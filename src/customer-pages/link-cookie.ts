import type { FastifyReply, FastifyRequest } from 'fastify';
import { setCookie } from '../page-frame/index.ts';
import { readCookie } from '../platform/http/read-cookie.ts';
import type { LivingLink } from '../quote-links/index.ts';

/** A page left open overnight can still be answered; a borrowed device forgets by itself. */
const KEPT_SECONDS = 86_400;

/** Where a quote's page is, once its link was opened. */
export function pagePath(quoteNumber: number): string {
  return `/your-quote/${quoteNumber}`;
}

/** Where one answer of a quote is given, with its form open: a page without script opens none. */
export function answerPath({ number }: { number: number }, answer: number | 'no'): string {
  return `${pagePath(number)}?answer=${answer}#answer-${answer}`;
}

/** The token that this device was let in with to the page of a quote. */
export function tokenFor(request: FastifyRequest, quoteNumber: number): string | undefined {
  return readCookie(request.headers.cookie, cookieName(quoteNumber));
}

/**
 * Keeps a device let in to the page of one quote, each quote with a cookie of its own, so that two
 * open quotes never take each other's answers. Every look lengthens it, up to the link's own end.
 */
export function keepLetIn(
  reply: FastifyReply,
  token: string,
  { quoteNumber, opensUntil }: LivingLink,
  now: Date,
): void {
  const left = Math.floor((opensUntil.getTime() - now.getTime()) / 1_000);
  const seconds = Math.min(KEPT_SECONDS, left);
  setCookie(reply, `${cookieName(quoteNumber)}=${token}; Max-Age=${seconds}`);
}

/** Lets a device out of the page of one quote. */
export function letOut(reply: FastifyReply, quoteNumber: number): void {
  setCookie(reply, `${cookieName(quoteNumber)}=; Max-Age=0`);
}

function cookieName(quoteNumber: number): `__Host-${string}` {
  return `__Host-q-${quoteNumber}`;
}
