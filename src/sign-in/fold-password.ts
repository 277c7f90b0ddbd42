/** The same password for whoever guesses: capitals, blanks and signs between make no difference. */
export function foldPassword(text: string): string {
  return text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '');
}
