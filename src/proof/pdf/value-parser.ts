import { type PdfValue, StrictlyUnreadable } from './pdf-value.ts';

/**
 * Reads values one after another from a PDF's text, one letter a byte. Anything that two readers
 * could take in two ways is refused: comments inside values, a key written twice, odd escapes.
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
    if (this.take('<<')) return this.#readDictionary(depth);
    if (this.take('<')) return this.#readHexString();
    if (this.take('(')) return this.#readString();
    if (this.take('[')) return this.#readArray(depth);
    if (this.take('/')) return { kind: 'name', text: this.#readNameText() };
    return this.#readReference() ?? this.#readNumber() ?? this.#readKeyword();
  }

  skipSpace(): void {
    while (SPACE.has(this.text.charCodeAt(this.position))) this.position += 1;
  }

  /** Goes past the letters if they stand here. */
  take(letters: string): boolean {
    if (!this.text.startsWith(letters, this.position)) return false;
    this.position += letters.length;
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
      if (this.take('>>')) return { kind: 'dictionary', entries };
      this.expect('/');
      const key = this.#readNameText();
      if (entries.has(key)) throw this.#refusal(`the key ${key} stands twice`);
      entries.set(key, this.readValue(depth + 1));
    }
  }

  #readArray(depth: number): PdfValue {
    const items: PdfValue[] = [];
    for (;;) {
      this.skipSpace();
      if (this.take(']')) return { kind: 'array', items };
      items.push(this.readValue(depth + 1));
    }
  }

  #readNameText(): string {
    const [written = ''] = this.match(/[^\0\t\n\f\r ()<>[\]{}/%]*/y) ?? [];
    return written.replace(/#(.?.?)/g, (_, digits: string) => {
      if (!/^[0-9A-Fa-f]{2}$/.test(digits)) throw this.#refusal('a name has a broken escape');
      return String.fromCharCode(Number.parseInt(digits, 16));
    });
  }

  #readHexString(): PdfValue {
    const digits = this.match(/([0-9A-Fa-f\0\t\n\f\r ]*)>/y)?.[1]?.replace(/[^0-9A-Fa-f]/g, '');
    if (digits === undefined) throw this.#refusal('a string does not end');
    const bytes = digits.length % 2 === 0 ? digits : `${digits}0`;
    return { kind: 'string', text: Buffer.from(bytes, 'hex').toString('latin1') };
  }

  #readString(): PdfValue {
    let text = '';
    let open = 1;
    for (;;) {
      const [plain = ''] = this.match(/[^()\\\r]*/y) ?? [];
      text += plain;
      const letter = this.text[this.position];
      this.position += 1;
      if (letter === ')') {
        open -= 1;
        if (open === 0) return { kind: 'string', text };
      } else if (letter === '(') {
        open += 1;
      } else if (letter === '\\') {
        text += this.#readEscape();
        continue;
      } else {
        // A bare carriage return is read as a line feed by some and kept by others.
        throw this.#refusal('a string does not end');
      }
      text += letter;
    }
  }

  #readEscape(): string {
    const octal = this.match(/[0-7]{1,3}/y)?.[0];
    if (octal !== undefined) return String.fromCharCode(Number.parseInt(octal, 8) & 0xff);
    if (this.match(/\r\n|\r|\n/y) !== undefined) return '';
    const letter = this.text[this.position] ?? '';
    this.position += 1;
    const meaning = ESCAPES[letter];
    if (meaning === undefined) throw this.#refusal('a string has an unknown escape');
    return meaning;
  }

  #readReference(): PdfValue | undefined {
    const found = this.match(
      /(\d{1,10})[\0\t\n\f\r ]+0[\0\t\n\f\r ]+R(?![^\0\t\n\f\r ()<>[\]{}/%])/y,
    );
    return found && { kind: 'reference', objectNumber: Number(found[1]) };
  }

  #readNumber(): PdfValue | undefined {
    const found = this.match(/[+-]?(?:\d+\.?\d*|\.\d+)(?![^\0\t\n\f\r ()<>[\]{}/%])/y);
    return found && { kind: 'number', value: Number(found[0]) };
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

const DEPTH_MAX = 60;
const SPACE = new Set([0, 9, 10, 12, 13, 32]);
const ESCAPES: Readonly<Record<string, string>> = {
  n: '\n',
  r: '\r',
  t: '\t',
  b: '\b',
  f: '\f',
  '(': '(',
  ')': ')',
  '\\': '\\',
};
