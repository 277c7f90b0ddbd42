/**
 * What a person typed or pasted into a form, without what nobody can see and nobody meant: a
 * zero-width space from a chat, a word joiner, a control character of a word processor. A person
 * could not find in the field what a refusal speaks of. What writes a text stays: the joiners
 * after letters of the scripts that join by them and in pictures made of several, the variants of a
 * letter, and the marks that keep two directions apart. A line ends in one character, as the field
 * that limits them counts it; browsers send two.
 */
export function typedText(text: string): string {
  return text
    .replace(/\r\n?/g, '\n')
    .replace(CONTROL, ' ')
    .replace(INVISIBLE, '')
    .replace(LOOSE_JOINER, '');
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it finds.
const CONTROL = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/g;

// Unicode's own list of what is shown as nothing, but for joiners (U+200C, U+200D), variants, and
// the marks U+034F, U+061C, U+200E and U+200F, by which words of scripts are spelled or ordered.
const INVISIBLE =
  /(?!\p{Variation_Selector}|\u034f|[\u061c\u200c-\u200f])\p{Default_Ignorable_Code_Point}/gu;

const JOINING_SCRIPTS = [
  ...['Arabic', 'Syriac', 'Mongolian', 'Devanagari', 'Bengali', 'Gurmukhi', 'Gujarati', 'Oriya'],
  ...['Tamil', 'Telugu', 'Kannada', 'Malayalam', 'Sinhala', 'Khmer', 'Myanmar'],
];
const JOINING = [
  ...JOINING_SCRIPTS.map((script) => `\\p{Script_Extensions=${script}}`),
  ...['\\p{Extended_Pictographic}', '\\p{Emoji_Modifier}', '\\ufe0f'],
].join('');
// Some words end in a joiner, so what comes after it does not matter.
const LOOSE_JOINER = new RegExp(`(?<![${JOINING}])[\\u200c\\u200d]+`, 'gu');
