/** The part of the library that is used: it writes a whole font anew, with its axes held still. */
declare module 'subset-font' {
  interface WholeFont {
    keepAllGlyphs: true;
    targetFormat: 'truetype';
    /** Where on each axis the font is to stand for good. */
    variationAxes: Record<string, number>;
  }
  function subsetFont(
    font: Uint8Array,
    text: undefined,
    options: WholeFont,
  ): Promise<Buffer<ArrayBuffer>>;
  export = subsetFont;
}
