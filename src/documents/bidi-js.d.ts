/** The part of the library that is used; its own types take it for another kind of module. */
declare module 'bidi-js' {
  interface EmbeddingLevels {
    /** For each unit of the text, odd where it is read from right to left. */
    levels: Uint8Array;
  }
  interface Bidi {
    getEmbeddingLevels(text: string, baseDirection: 'ltr' | 'rtl'): EmbeddingLevels;
    /** The units of the text as they stand from left to right. */
    getReorderedIndices(text: string, found: EmbeddingLevels): number[];
    getMirroredCharacter(character: string): string | null;
  }
  function createBidi(): Bidi;
  export = createBidi;
}
