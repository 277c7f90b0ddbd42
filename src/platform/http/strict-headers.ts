/**
 * What an answer tells a browser where no page has said otherwise: take it as what it is called, load
 * nothing for it, let nobody frame it, name it to nobody, and come by TLS alone. Whatever is refused
 * before the framework has found a route has to say so too (ASVS 5.0, 3.4.1, 3.4.4 and 3.4.6).
 */
export const STRICT_HEADERS = {
  'content-security-policy':
    "default-src 'none';base-uri 'none';form-action 'none';frame-ancestors 'none'",
  'referrer-policy': 'no-referrer',
  'strict-transport-security': 'max-age=31536000; includeSubDomains',
  'x-content-type-options': 'nosniff',
} as const;
