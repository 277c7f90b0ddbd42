/**
 * The forms in which a street may be on record that was heard in one: as it was said, and with
 * "Street" and its like written out or shortened; the house number first in all of them, without
 * dots and commas. The form as it was said is the first.
 * @param plain in lower case without accents, as the database keeps it for searching
 */
export function streetForms(plain: string): string[] {
  const said = plain.replace(/[.,#]/g, ' ').replace(/\s+/g, ' ').trim();
  const numbered = said.replace(/^(\D*\p{L}\D*) (\d+[a-z]?)$/u, '$2 $1');
  const words = numbered.split(' ');
  const long = words.map((word) => LONG_FORMS.get(word) ?? word).join(' ');
  const short = words.map((word) => SHORT_FORMS[word] ?? word).join(' ');
  return [...new Set([numbered, long, short])];
}

// The commoner street suffixes and the directions as US mail shortens them (USPS Publication 28,
// appendix C1 and section 233).
const SHORT_FORMS: Record<string, string> = {
  street: 'st',
  avenue: 'ave',
  road: 'rd',
  lane: 'ln',
  court: 'ct',
  drive: 'dr',
  boulevard: 'blvd',
  place: 'pl',
  terrace: 'ter',
  circle: 'cir',
  parkway: 'pkwy',
  highway: 'hwy',
  square: 'sq',
  trail: 'trl',
  north: 'n',
  south: 's',
  east: 'e',
  west: 'w',
};
const LONG_FORMS = new Map(Object.entries(SHORT_FORMS).map(([long, short]) => [short, long]));
