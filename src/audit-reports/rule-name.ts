/** What a rule is called where there is no room for its statement: `Fee charged twice`. */
export function ruleName(code: string): string {
  const words = code.replaceAll('_', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}
