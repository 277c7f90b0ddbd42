import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { newCustomerSchema } from '../../../src/customers/contract.ts';
import { checkPart } from '../../../src/platform/http/check-part.ts';
import { code, day, instant, phone, text } from '../../../src/platform/http/formats.ts';
import { type FieldError, ProblemError } from '../../../src/platform/http/problem.ts';

const UTC = 'must be a UTC instant ending in Z, such as 2026-07-14T18:00:00Z';

/** What is said about a document, as "pointer message". */
function complaints(schema: z.ZodType, document: unknown, httpPart = 'body'): string[] {
  return errorsOf(schema, document, httpPart).map((each) => `${each.pointer} ${each.message}`);
}

function errorsOf(schema: z.ZodType, document: unknown, httpPart: string): FieldError[] {
  const check = checkPart({ schema, httpPart, method: 'POST', url: '/' });
  const { error } = check(document) as { error?: unknown };
  if (!(error instanceof ProblemError)) throw new Error('nothing was refused');
  return error.extensions.errors ?? [];
}

describe('what is wrong with a field is said in plain words that follow its name', () => {
  const field = [
    ['missing text', text(9), undefined, 'is missing'],
    ['a missing choice', z.enum(['en', 'es']), undefined, 'is missing'],
    ['a missing list', z.array(z.string()), undefined, 'is missing'],
    ['a missing instant', instant, undefined, 'is missing'],
    ['a missing union', z.union([z.string(), z.number()]), undefined, 'is missing'],
    ['a number for text', text(9), 7, 'must be a string'],
    ['null for text', text(9), null, 'must be a string'],
    ['text for a number', z.number(), '7', 'must be a number'],
    ['half for a whole', z.int(), 1.5, 'must be a whole number'],
    ['text for yes or no', z.boolean(), 'yes', 'must be true or false'],
    ['an object for a list', z.array(z.string()), {}, 'must be a list'],
    ['a list for an object', z.strictObject({}), [], 'must be an object'],
    ['an instant elsewhere', instant, '2026-07-14T13:00:00-05:00', UTC],
    ['an instant without zone', instant, '2026-07-14T18:00:00', UTC],
    ['a day for an instant', instant, '2026-07-14', UTC],
    ['a day of no calendar', day, '2026-02-30', 'must be a day, such as 2026-07-14'],
    ['an instant long ago', instant, '0001-01-01T00:00:00Z', 'is before the year 1900'],
    ['no UUID', z.uuid(), 'SITE-7', expect.stringMatching(/^must be a UUID, such as /)],
    ['no address', z.email(), 'winifred', 'must be an e-mail address'],
    ['no phone', phone, 'none', 'has too few digits for a phone number'],
    ['no code', code, 'No Cooling', expect.stringMatching(/^is not a code: lower case/)],
    ['an unknown choice', z.enum(['en', 'es']), 'fr', 'must be one of en, es'],
    ['the one choice missed', z.literal('en'), 'fr', 'must be en'],
    ['nothing for text', text(9), '  ', 'must not be empty'],
    ['text too short', z.string().min(2), 'x', 'must have at least 2 characters'],
    ['text too long', text(9), 'x'.repeat(10), 'must have at most 9 characters'],
    ['an empty list', z.array(z.string()).min(1), [], 'must not be empty'],
    ['a list too long', z.array(z.string()).max(1), ['a', 'b'], 'must have at most 1 items'],
    ['too little', z.int().min(1), 0, 'must be 1 or more'],
    ['too much', z.int().max(600), 601, 'must be 600 or less'],
    ['not more than the bound', z.number().gt(0), 0, 'must be more than 0'],
    ['not less than the bound', z.number().lt(1), 1, 'must be less than 1'],
  ] as const;
  it.each(field)('%s', (_, schema, value, message) => {
    const errors = errorsOf(z.strictObject({ field: schema }), { field: value }, 'body');
    expect(errors).toEqual([{ in: 'body', pointer: '/field', code: expect.any(String), message }]);
  });
});

describe('each mistake has its place (RFC 6901)', () => {
  it('an unknown key is pointed to itself, each with an error of its own', () => {
    const person = { name: 'Winifred', phone: '555-0111', vip: true, 'a/b~c': 1 };
    expect(complaints(newCustomerSchema, person)).toEqual([
      '/vip is not a field of this request',
      '/a~1b~0c is not a field of this request',
    ]);
  });

  it('so is one deeper down', () => {
    const schema = z.strictObject({ lines: z.array(z.strictObject({ code })) });
    expect(complaints(schema, { lines: [{ code: 'fan' }, { code: 'fan', price: 1 }] })).toEqual([
      '/lines/1/price is not a field of this request',
    ]);
  });

  it('and one in a request that takes no fields, or within one form of several', () => {
    const nothing = z.union([z.strictObject({}), z.null()]).optional();
    expect(complaints(nothing, { vip: true })).toEqual(['/vip is not a field of this request']);
    const schema = z.strictObject({ hours: z.strictObject({ from: z.string() }).nullable() });
    expect(complaints(schema, { hours: { from: '08:00', to: 1 } })).toEqual([
      '/hours/to is not a field of this request',
    ]);
    const either = z.strictObject({ note: z.union([text(9), z.strictObject({ text: text(9) })]) });
    expect(complaints(either, { note: { text: 7 } })).toEqual(['/note/text must be a string']);
    expect(complaints(either, { note: 7 })).toEqual(['/note is of none of the expected forms']);
  });

  it('of several forms of one type that is meant whose fields are there', () => {
    const known = z.strictObject({ id: z.uuid() });
    const fresh = z.strictObject({ street: text(9), city: text(9) });
    const schema = z.strictObject({ site: z.union([known, fresh]) });
    expect(complaints(schema, { site: { street: 'Mill Row' } })).toEqual(['/site/city is missing']);
    expect(complaints(schema, { site: { id: 7 } })).toEqual(['/site/id must be a string']);
    expect(complaints(schema, { site: { street: 'Mill Row', citty: 'Wrenfield' } })).toEqual([
      '/site/city is missing',
      '/site/citty is not a field of this request',
    ]);
    // Whoever sends nothing of any, or as much of one as of the other, may have meant either.
    const either = ['/site needs either id, or street and city'];
    expect(complaints(schema, { site: {} })).toEqual(either);
    expect(complaints(schema, { site: { strasse: 'Mill Row' } })).toEqual(either);
    expect(complaints(schema, { site: { id: 7, street: 'Mill Row' } })).toEqual([
      '/site is of none of the expected forms',
    ]);
  });

  it('the whole document is the empty pointer', () => {
    expect(complaints(newCustomerSchema, [])).toEqual([' must be an object']);
    expect(errorsOf(newCustomerSchema, 'text', 'body')).toEqual([
      { in: 'body', pointer: '', code: 'invalid_type', message: 'must be an object' },
    ]);
  });

  it.each([
    ['querystring', 'query'],
    ['params', 'path'],
    ['body', 'body'],
  ])('of the part %s it is said that it is in the %s', (httpPart, place) => {
    expect(errorsOf(z.strictObject({ id: z.uuid() }), {}, httpPart)).toEqual([
      { in: place, pointer: '/id', code: expect.any(String), message: 'is missing' },
    ]);
  });
});
