import type { FastifyReply } from 'fastify';

/** What our cookies have in common: no script reads them, and no other site sends them. */
const COOKIE_RULES = 'Path=/; Secure; HttpOnly; SameSite=Lax';

/** Sets a cookie of a page. Its name begins with `__Host-`, so that no other host can set it. */
export function setCookie(reply: FastifyReply, cookie: `__Host-${string}`): void {
  reply.header('set-cookie', `${cookie}; ${COOKIE_RULES}`);
}
