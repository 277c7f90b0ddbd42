/**
 * Every amount of money, share and measure that a sentence says, sorted: '$1,234.50', '20%', '45
 * min', '2.5 lb'. Minutes are written alike in both languages here, so that they can be compared.
 */
export function figuresIn(text: string): string[] {
  const alike = text.replaceAll(/\b(\d+) (?:minutes?|minutos?)\b/g, '$1 min');
  return (alike.match(figure) ?? []).toSorted();
}

const figure =
  /-?\$[\d,]+\.\d\d|\d+(?:\.\d+)?%|\d+(?:\.\d+)? (?:min|lb|oz|ft|in|gal)\b|x \d+(?:\.\d+)?/g;
