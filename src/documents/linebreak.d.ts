/** The part of the library that is used: the places of the Unicode line breaking algorithm. */
declare module 'linebreak' {
  interface LineBreak {
    /** Where the next line would begin. */
    position: number;
  }
  class LineBreaker {
    constructor(text: string);
    nextBreak(): LineBreak | null;
  }
  // The library exports it so.
  export = LineBreaker;
}
