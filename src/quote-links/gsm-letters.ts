// The default alphabet of short texts and its extension (3GPP TS 23.038, 6.2.1). A text of these
// letters alone fits 160 into one message, any other 70.
const BASIC = new Set(
  '@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !"#¤%&\'()*+,-./0123456789:;<=>?¡' +
    'ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà',
);
/** Each of these takes the room of two. */
const EXTENDED = new Set('\f^{}\\[~]|€');

/** How many places a text takes in short messages; undefined when it has a letter they lack. */
export function gsmLength(text: string): number | undefined {
  let length = 0;
  for (const letter of text) {
    if (BASIC.has(letter)) length += 1;
    else if (EXTENDED.has(letter)) length += 2;
    else return undefined;
  }
  return length;
}

/** The text with those accents taken off that short messages lack: 'Jiménez Rubí' is 'Jiménez Rubi'. */
export function inGsmLetters(text: string): string {
  return [...text]
    .map((letter) => (gsmLength(letter) === undefined ? withoutAccent(letter) : letter))
    .join('');
}

function withoutAccent(letter: string): string {
  const dash: Record<string, string> = {
    '–': '-',
    '—': '-',
    '−': '-',
    '’': "'",
    '‘': "'",
    '“': '"',
    '”': '"',
  };
  const plain = dash[letter] ?? letter.normalize('NFD').replace(/\p{M}/gu, '');
  return gsmLength(plain) === undefined ? letter : plain;
}
