import { type PdfValue, StrictlyUnreadable } from './pdf-value.ts';

/**
 * Reads values one after another from a PDF's text, one letter a byte. Of the many spellings that
 * the standard allows for a value, each kind is taken in one only, the one that ordinary programs
 * write; and what two readers could take in two ways, or only one of them read to its end, is
 * refused: comments, a key written twice, odd escapes, numbers and names of any length.
 */
export class ValueParser {
  readonly text: string;
  position: number;

  constructor(text: string, position = 0) {
    this.text = text;
    this.position = position;
  }

  /** @throws StrictlyUnreadable where no value stands */
  readValue(depth = 0): PdfValue {
    if (depth > DEPTH_MAX) throw this.#refusal('values are nested too deeply');
    this.skipSpace();
    if (this.#takeLetter('/')) return { kind: 'name', text: this.#readNameText() };
    if (this.#takeLetter('<')) {
      return this.#takeLetter('<') ? this.#readDictionary(depth) : this.#readHexString();
    }
    if (this.#takeLetter('(')) return this.#readString();
    if (this.#takeLetter('[')) return this.#readArray(depth);
    return this.#readFigures() ?? this.#readNumber() ?? this.#readKeyword();
  }

  skipSpace(): void {
    while (this.isAtSpace()) this.position += 1;
  }

  isAtSpace(): boolean {
    return SPACE[this.text.charCodeAt(this.position)] === 1;
  }

  /** Goes past the letters if they stand here. */
  take(letters: string): boolean {
    if (!this.text.startsWith(letters, this.position)) return false;
    this.position += letters.length;
    return true;
  }

  /** As `take`, at a fraction of its cost. */
  #takeLetter(letter: string): boolean {
    if (this.text[this.position] !== letter) return false;
    this.position += 1;
    return true;
  }

  /** Goes past what the sticky pattern matches here. */
  match(pattern: RegExp): RegExpExecArray | undefined {
    pattern.lastIndex = this.position;
    const found = pattern.exec(this.text);
    if (found === null) return undefined;
    this.position = pattern.lastIndex;
    return found;
  }

  expect(letters: string): void {
    this.skipSpace();
    if (!this.take(letters)) throw this.#refusal(`"${letters}" is missing`);
  }

  #readDictionary(depth: number): PdfValue {
    const entries = new Map<string, PdfValue>();
    for (;;) {
      this.skipSpace();
      if (!this.#takeLetter('/')) {
        this.expect('>>');
        return { kind: 'dictionary', entries };
      }
      const key = this.#readNameText();
      if (entries.has(key)) throw this.#refusal(`the key ${key} stands twice`);
      entries.set(key, this.readValue(depth + 1));
    }
  }

  #readArray(depth: number): PdfValue {
    const items: PdfValue[] = [];
    for (;;) {
      this.skipSpace();
      if (this.#takeLetter(']')) return { kind: 'array', items };
      items.push(this.readValue(depth + 1));
    }
  }

  #readNameText(): string {
    const end = this.#endOf(PLAIN_IN_NAMES);
    const length = end - this.position;
    if (!this.#isSetOffAt(end) || length === 0 || length > NAME_LENGTH_MAX) {
      return this.#readEscapedName();
    }
    const text = this.text.slice(this.position, end);
    this.position = end;
    return text;
  }

  /** Only what cannot stand in a name as it is may be escaped, and it must be. */
  #readEscapedName(): string {
    const [written = ''] = this.match(/[^\0\t\n\f\r ()<>[\]{}/%]*/y) ?? [];
    if (written.length > NAME_LENGTH_MAX) throw this.#refusal('a name is too long');
    if (!/^(?:[!"$-~]|#[0-9A-Fa-f]{2})+$/.test(written)) {
      throw this.#refusal('a name is written oddly');
    }
    return written.replace(/#(..)/g, (_, digits: string) => {
      const letter = String.fromCharCode(Number.parseInt(digits, 16));
      if (letter === '\0' || PLAIN_IN_NAMES[letter.charCodeAt(0)] === 1) {
        throw this.#refusal('a name has an odd escape');
      }
      return letter;
    });
  }

  #readHexString(): PdfValue {
    const digits = this.match(/((?:[0-9A-Fa-f]{2})*)>/y)?.[1];
    if (digits === undefined) throw this.#refusal('a string is written oddly');
    return this.#string(Buffer.from(digits, 'hex').toString('latin1'));
  }

  /** A bare carriage return is read as a line feed by some, and brackets in pairs not by all. */
  #readString(): PdfValue {
    const written = this.match(
      /([^()\\\r]*(?:\\(?:[nrtbf()\\]|[0-3][0-7]{2})[^()\\\r]*)*)\)/y,
    )?.[1];
    if (written === undefined) throw this.#refusal('a string is written oddly');
    return this.#string(written.replace(/\\(\d{3}|.)/g, (_, escaped: string) => meant(escaped)));
  }

  #string(text: string): PdfValue {
    if (text.length > STRING_LENGTH_MAX) throw this.#refusal('a string is too long');
    return { kind: 'string', text };
  }

  /** A reference or a natural number. Of all values these are the most, next to names. */
  #readFigures(): PdfValue | undefined {
    const end = this.#endOf(DIGITS);
    const length = end - this.position;
    if (length === 0 || length > FIGURES_MAX) return undefined;
    if (this.text[this.position] === '0' && length > 1) return undefined;
    const figure = Number(this.text.slice(this.position, end));
    const isReference = this.text.startsWith(' 0 R', end) && this.#isSetOffAt(end + 4);
    if (isReference && figure > 0) {
      this.position = end + 4;
      return { kind: 'reference', objectNumber: figure };
    }
    if (!this.#isSetOffAt(end)) return undefined;
    this.position = end;
    return { kind: 'number', value: figure };
  }

  /** Where the letters of this kind that stand here end. */
  #endOf(kind: Uint8Array): number {
    let end = this.position;
    while (kind[this.text.charCodeAt(end)] === 1) end += 1;
    return end;
  }

  /** Whether a name or a number is over here. */
  #isSetOffAt(position: number): boolean {
    return position >= this.text.length || SET_OFF[this.text.charCodeAt(position)] === 1;
  }

  #readNumber(): PdfValue | undefined {
    const [written] = this.match(/[+-]?[\d.]+(?![^\0\t\n\f\r ()<>[\]{}/%])/y) ?? [];
    if (written === undefined) return undefined;
    const value = Number(written);
    const isPlain = written.length <= NUMBER_LENGTH_MAX && String(value) === written;
    if (!isPlain || Math.abs(value) > NUMBER_MAX) throw this.#refusal('a number is written oddly');
    return { kind: 'number', value };
  }

  #readKeyword(): PdfValue {
    const word = this.match(/(?:true|false|null)(?![^\0\t\n\f\r ()<>[\]{}/%])/y)?.[0];
    if (word === undefined) throw this.#refusal('a value is missing');
    return word === 'null' ? { kind: 'null' } : { kind: 'boolean', value: word === 'true' };
  }

  #refusal(what: string): StrictlyUnreadable {
    return new StrictlyUnreadable(`${what} at byte ${this.position}`);
  }
}

// What every reader we know of reads whole: some cut longer names short, or stop at deeper values.
const DEPTH_MAX = 24;
const NAME_LENGTH_MAX = 127;
const STRING_LENGTH_MAX = 32_767;
const NUMBER_LENGTH_MAX = 20;
/** So many digits are a number that `NUMBER_MAX` lets through; of more a pattern decides. */
const FIGURES_MAX = 9;
const NUMBER_MAX = 2_147_483_647;

const PLAIN_IN_NAMES = kindOf(/[!-~](?<![#%()/<>[\]{}])/);
const DIGITS = kindOf(/\d/);
/** Two more letters are white space by the standard (nought and form feed), and not to everybody. */
const SPACE = kindOf(/[\t\n\r ]/);
/** What may stand behind a name or a number. */
const SET_OFF = kindOf(/[\0\t\n\f\r ()<>[\]{}/%]/);

const ESCAPES: Readonly<Record<string, string>> = {
  n: '\n',
  r: '\r',
  t: '\t',
  b: '\b',
  f: '\f',
};

/** For each letter by its number whether it is of the kind: asked so often that a pattern is slow. */
function kindOf(pattern: RegExp): Uint8Array {
  return Uint8Array.from({ length: 256 }, (_, code) =>
    pattern.test(String.fromCharCode(code)) ? 1 : 0,
  );
}

function meant(escaped: string): string {
  if (escaped.length === 3) return String.fromCharCode(Number.parseInt(escaped, 8));
  return ESCAPES[escaped] ?? escaped;
}
