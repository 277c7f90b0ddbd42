import { type Language, languageSchema } from './language.ts';

/**
 * The language of a page: what was asked for just now, what the form that was sent was read in, what
 * was asked for before, what we know of the customer, and last what the browser prefers. English when
 * nobody says anything we speak. English on record is what is written where nobody asked, so that
 * it says nothing of a customer; any other language was put there by somebody who did ask.
 */
export function chooseLanguage(said: {
  query: unknown;
  form: unknown;
  cookie: string | undefined;
  customer: string | undefined;
  acceptLanguage: string | undefined;
}): Language {
  const { query, form, cookie, customer, acceptLanguage } = said;
  const onRecord = customer === 'en' ? undefined : customer;
  for (const wish of [query, form, cookie, onRecord, ...preferred(acceptLanguage)]) {
    const known = languageSchema.safeParse(wish);
    if (known.success) return known.data;
  }
  return 'en';
}

/** The primary tags of an Accept-Language header, the most wanted first (RFC 9110, 12.5.4). */
function preferred(header = ''): string[] {
  return header
    .split(',')
    .map((range, at) => {
      const [tag = '', ...parameters] = range.trim().toLowerCase().split(';');
      const quality = parameters.map((each) => /^\s*q=([\d.]+)$/.exec(each)?.[1]).find(Boolean);
      return { tag: tag.split('-')[0] ?? '', weight: Number(quality ?? 1), at };
    })
    .filter(({ weight }) => weight > 0)
    .sort((a, b) => b.weight - a.weight || a.at - b.at)
    .map(({ tag }) => tag);
}
