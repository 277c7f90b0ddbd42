/** What every answer of the pages says of itself. */
export const PAGE_HEADERS = {
  'content-security-policy':
    "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; " +
    "frame-ancestors 'none'; base-uri 'none'",
  // Other sites learn nothing. With no-referrer an older browser would send its forms with the
  // origin `null`, which is how a form of another site looks; no address below holds a secret.
  'referrer-policy': 'same-origin',
  'x-content-type-options': 'nosniff',
  'strict-transport-security': 'max-age=31536000; includeSubDomains',
  'x-robots-tag': 'noindex, nofollow',
  vary: 'Cookie, Accept-Language',
};
