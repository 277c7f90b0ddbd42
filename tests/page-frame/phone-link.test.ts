import { expect, it } from 'vitest';
import { phoneLink, withPhone } from '../../src/page-frame/index.ts';
import { html } from '../../src/platform/html/html.ts';

// What stands on record as a phone number was typed by somebody (OWASP ASVS 5.0, 1.2.2).
it.each([
  ['555-0111', '<a href="tel:5550111">555-0111</a>'],
  ['+1 (555) 0111', '<a href="tel:+15550111">+1 (555) 0111</a>'],
  ['javascript:alert(1)//555-0111', '<a href="tel:15550111">javascript:alert(1)//555-0111</a>'],
  [
    '555-0111" onclick="alert(1)',
    '<a href="tel:55501111">555-0111&quot; onclick=&quot;alert(1)</a>',
  ],
])('a number leads to a telephone and nowhere else, whatever it is: %s', (phone, link) => {
  expect(phoneLink(phone).toString()).toBe(link);
});

it('so does a number within a sentence, as often as it stands there', () => {
  const sentence = withPhone((phone) => `Call ${phone}; again, ${phone}.`, '<555-0111>');
  const link = '<a href="tel:5550111">&lt;555-0111&gt;</a>';
  expect(html`<p>${sentence}</p>`.toString()).toBe(`<p>Call ${link}; again, ${link}.</p>`);
});
