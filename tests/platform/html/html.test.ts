import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Html, html } from '../../../src/platform/html/html.ts';

const hostile: [what: string, text: string][] = [
  ['a script', '<script>alert(1)</script>'],
  ['an image that fails', '<img src=x onerror=alert(1)>'],
  ['the end of an attribute', '" onmouseover="alert(1)'],
  ['the end of an attribute in single quotes', "' onfocus='alert(1)"],
  ['the end of an attribute in back quotes', '` onload=`alert(1)'],
  ['an end of the element around it', '</p></main><form action="https://evil.example.com">'],
  ['a character written out', '&lt;script&gt;'],
  ['a comment', '<!-- --><b>'],
];

describe('whatever people typed', () => {
  it.each(hostile)('stays text in an element, and in an attribute: %s', (_, text) => {
    const page = html`<p title="${text}">${text}</p>`.toString();
    const [, attribute = '', element = ''] = /^<p title="([^"]*)">([^<]*)<\/p>$/.exec(page) ?? [];
    expect(read(attribute)).toBe(text);
    expect(read(element)).toBe(text);
  });

  it('leaves a page no character that could end a text or an attribute, for any text at all', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const written = html`${text}`.toString();
        expect(written).not.toMatch(/[<>"'`]/);
        expect(read(written)).toBe(text);
      }),
    );
  });

  it('is escaped once: a piece within a piece stays as it is, also in lists', () => {
    const items = ['<a>', '&'].map((text) => html`<li>${text}</li>`);
    expect(html`<ul>${items}</ul>`.toString()).toBe('<ul><li>&lt;a&gt;</li><li>&amp;</li></ul>');
    expect(html`${[['<'], [html`<br>`]]}`.toString()).toBe('&lt;<br>');
  });
});

describe('a piece of a page', () => {
  it('is made by the template alone: what looks like one in data is text', () => {
    const forged = JSON.parse('{"text":"<script>","toString":"<script>"}');
    const lent = Object.create(Html.prototype);
    expect(() => html`${lent}`).toThrow(TypeError);
    expect(() => html`${forged}`).toThrow(TypeError);
  });

  it('has nothing where nothing is to be said', () => {
    expect(html`a${undefined}${null}${false}b${0}${''}`.toString()).toBe('ab0');
  });

  it('refuses a value in an attribute without quotes, where escaping could not hold it', () => {
    expect(() => html`<p title=${'x onclick=alert(1)'}>`).toThrow('needs quotes');
    expect(html`<a href="?a=1&b=${'c d'}">`.toString()).toBe('<a href="?a=1&b=c d">');
  });
});

/** What a browser reads, of the five characters that are written otherwise. */
function read(written: string): string {
  const meant: Record<string, string> = {
    '&lt;': '<',
    '&gt;': '>',
    '&quot;': '"',
    '&#39;': "'",
    '&#96;': '`',
    '&amp;': '&',
  };
  return written.replace(/&(lt|gt|quot|#39|#96|amp);/g, (entity) => meant[entity] ?? '');
}
