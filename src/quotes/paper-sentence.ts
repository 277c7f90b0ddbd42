import { ohmUnit } from './ohm-unit.ts';

/**
 * A sentence of a verdict as a customer reads it: degrees and microfarads as people write them, no
 * figure with more digits than any meter shows, and nothing on how good the method is.
 */
export function paperSentence(sentence: string): string {
  return sentence
    .replaceAll(/; this method is good to [^;]*?(?=[;]|\.?$)/g, '')
    .replaceAll(/\d+\.\d{4,}/g, (figure) => String(Number(Number(figure).toFixed(2))))
    .replaceAll(/(\d) F\b/g, '$1 °F')
    .replaceAll(/(\d) uF\b/g, '$1 µF')
    .replaceAll(/(\d+(?:\.\d+)?) ohms?\b/g, (_, figure) => resistance(Number(figure)))
    .replace(/\.\.$/, '.')
    .replaceAll('+/-', '±')
    .replaceAll(/(^|\s)-(?=\d)/g, '$1−');
}

function resistance(ohms: number): string {
  const { unit, size } = ohmUnit(ohms);
  return `${Number((ohms / size).toFixed(2))} ${unit}`;
}

/** The sentences of a text; a unit such as in. w.c. ends none. */
export function sentencesIn(text: string): string[] {
  return text.split(/(?<=[.?!])\s+(?=[A-Z\d−-])/);
}
