import type { FastifyReply, FastifyRequest } from 'fastify';
import { SESSION_COOKIE } from '../access/session-cookie.ts';
import { LANGUAGE_COOKIE } from './language-cookie.ts';

/**
 * Has a browser forget all that it has of this service but the language: whoever comes next at the
 * same computer finds neither a page nor a cookie of whoever has left (W3C, Clear Site Data; ASVS 5.0,
 * 14.3.1). Cookies are named one by one: `"cookies"` would take those of every host of the company's
 * domain with them.
 */
export function forgetBrowser(request: FastifyRequest, reply: FastifyReply): void {
  reply.header('clear-site-data', '"cache", "storage"');
  for (const name of new Set([SESSION_COOKIE, ...ownCookies(request.headers.cookie)])) {
    reply.header('set-cookie', `${name}=; Max-Age=0; Path=/; Secure; HttpOnly; SameSite=Lax`);
  }
}

/** Names of cookies that were shown and can only be of this very host (RFC 6265bis, 4.1.3.2). */
function ownCookies(header = ''): string[] {
  const names = header.match(/(?<=^|;\s*)__Host-[\w-]+(?==)/g) ?? [];
  return names.filter((name) => name !== LANGUAGE_COOKIE);
}
