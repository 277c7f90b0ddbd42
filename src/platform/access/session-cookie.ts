/**
 * The cookie of a page that somebody signed in at. By its prefix a browser keeps it only when it is
 * Secure, for the whole of this host and no other (RFC 6265bis, section 4.1.3.2).
 */
export const SESSION_COOKIE = '__Host-evenhand';

/** The value of Set-Cookie that keeps a browser signed in. */
export function sessionCookie(token: string, secondsLeft: number): string {
  return `${SESSION_COOKIE}=${token}; Max-Age=${secondsLeft}; Path=/; Secure; HttpOnly; SameSite=Lax`;
}
