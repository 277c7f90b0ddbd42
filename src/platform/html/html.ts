let makeHtml: (text: string) => Html;

/**
 * A piece of a page that is safe to send as it is. Only `html` makes one: data that merely looks
 * like it, whatever its fields, is text and is escaped.
 */
export class Html {
  readonly #text: string;

  private constructor(text: string) {
    this.#text = text;
  }

  toString(): string {
    return this.#text;
  }

  // The one way from a text to a piece of a page, and it does not leave this file.
  static {
    makeHtml = (text) => new Html(text);
  }
}

/** What may stand in a template: text, which is escaped, pieces, lists of either, or nothing. */
export type HtmlValue = Html | string | number | undefined | null | false | readonly HtmlValue[];

/**
 * Writes a piece of a page. Every value is escaped, in text as in a quoted attribute, unless it is
 * itself such a piece; `undefined`, `null` and `false` leave nothing behind. No value belongs into
 * a comment, a script or a style, for which this escapes nothing.
 * @throws Error for a value in an attribute without quotes, where escaping could not hold it
 */
export function html(texts: TemplateStringsArray, ...values: readonly HtmlValue[]): Html {
  const parts = texts.map((text, at) => {
    if (at < values.length && UNQUOTED.test(text)) {
      throw new Error(`a value needs quotes after: ${text.slice(-40)}`);
    }
    return text + written(values[at]);
  });
  return makeHtml(parts.join(''));
}

// An attribute's name and its sign, and then the value with nothing around it.
const UNQUOTED = /\s[\w:-]+=$/;

function written(value: HtmlValue): string {
  if (value === undefined || value === null || value === false) return '';
  if (value instanceof Html) return value.toString();
  if (isList(value)) return value.map(written).join('');
  return escaped(String(value));
}

function isList(value: HtmlValue): value is readonly HtmlValue[] {
  return Array.isArray(value);
}

function escaped(text: string): string {
  return text.replace(/[&<>"'`]/g, (character) => ENTITIES[character] ?? '');
}

const ENTITIES: Record<string, string> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
  '`': '&#96;',
};
