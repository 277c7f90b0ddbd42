/** So much of a complaint fits a card; the ticket has the rest. */
const LETTERS_MAX = 120;

/** The beginning of what somebody said, on one line, cut between words where it can be. */
export function beginningOf(text: string): string {
  const line = text.replace(/\s+/gu, ' ').trim();
  const letters = [...line];
  if (letters.length <= LETTERS_MAX) return line;
  const cut = letters.slice(0, LETTERS_MAX - 1).join('');
  const words = cut.slice(0, cut.lastIndexOf(' '));
  return `${words === '' ? cut : words}…`;
}
