/** Words that no Spanish text has, and nearly every English one has some of. */
const englishWords = [
  ...['the', 'and', 'of', 'is', 'not', 'or', 'with', 'from', 'for', 'to', 'at', 'by', 'on', 'off'],
  ...['this', 'that', 'it', 'its', 'was', 'were', 'are', 'be', 'been', 'has', 'have', 'than', 'an'],
  ...['found', 'measured', 'looked', 'read', 'reads', 'seen', 'under', 'over', 'above', 'below'],
  ...['visit', 'fee', 'labor', 'parts', 'part', 'work', 'charge', 'charged', 'minutes', 'minute'],
  ...[
    'hour',
    'each',
    'less',
    'more',
    'voltage',
    'switch',
    'fan',
    'blower',
    'board',
    'coil',
    'fuse',
  ],
  ...['air', 'pressure', 'wire', 'limit', 'should', 'you', 'your', 'we', 'our', 'no charge', 'tax'],
  ...[
    'discount',
    'credited',
    'years',
    'repair',
    'adjustment',
    'replace',
    'tons',
    'usual',
    'marked',
  ],
];

const anyEnglish = new RegExp(`\\b(?:${englishWords.join('|')})\\b`, 'giu');

/** The English words in a text, in lower case. */
export function englishWordsIn(text: string): string[] {
  // \b of a regular expression sees no letter in an accented one, which would cut words in two.
  const plain = text.normalize('NFD').replaceAll(/\p{M}/gu, '');
  return (plain.match(anyEnglish) ?? []).map((word) => word.toLowerCase());
}
