import { z } from 'zod';

// Small shared forms of fields. Every one is the same in requests and answers.

// Nothing here happened before; and the database has no year 0, which RFC 3339 has.
const isRecent = (text: string) => text >= '1900';
const tooOld = { error: 'is before the year 1900' };

/** An instant, RFC 3339 with `Z`, from the year 1900 on. */
export const instant = z.iso
  .datetime({ offset: false, local: false })
  .refine(isRecent, tooOld)
  .meta({ description: 'RFC 3339, in UTC with Z.' });

/** A calendar day, from the year 1900 on. */
export const day = z.iso.date().refine(isRecent, tooOld);

/**
 * A local day that may be planned or looked at; one beyond it is a slip in the year, and the hours of
 * the last one that can be written end after it.
 */
export const plannableDay = day.refine((text) => text < '2200', {
  error: 'is years ahead: look at the year',
});

/** US dollars in integer cents, not negative and below 21 million dollars (a 32-bit column). */
export const cents = z.int().min(0).max(2_000_000_000);

/** US dollars in integer cents, either sign. */
export const signedCents = z.int().min(-2_000_000_000).max(2_000_000_000);

/**
 * One line or paragraph of text people typed: not empty, without control characters that have no
 * place in text (NUL cannot even be stored), without what hides text, without lone surrogates.
 */
export function text(maxLength: number) {
  return z
    .string()
    .trim()
    .min(1)
    .max(maxLength)
    .refine((value) => !HAS_CONTROL.test(value) && !HIDES.test(value) && value.isWellFormed(), {
      error: 'has characters that are not text',
    });
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it refuses.
const HAS_CONTROL = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/;

/**
 * What turns the reading direction around or takes no room: with them a line reads otherwise than it
 * is stored, and two names that look the same differ. Joiners stay: some scripts need them.
 */
const HIDES = /[\u200b\u202a-\u202e\u2060\u2066-\u2069\ufeff]/;

/** A phone number as people write it, with at least seven digits. */
export const phone = text(40).refine((value) => value.replace(/\D/g, '').length >= 7, {
  error: 'has too few digits for a phone number',
});

/** A code of ours or of the price book: lower case words joined by underscores. */
export const code = z.string().regex(/^[a-z][a-z0-9_]{1,59}$/, {
  error: 'is not a code: lower case letters, digits and underscores',
});

/**
 * One or several known words, joined by commas: a filter that lets several through. The words come
 * out sorted and once each, so that one filter has one form.
 */
export function oneOrMore<Word extends string>(words: z.ZodType<Word> & { options: Word[] }) {
  return z
    .string()
    .transform((list, context) => {
      const parsed = z.array(words).safeParse(list.split(','));
      if (parsed.success) return [...new Set(parsed.data)].sort();
      context.addIssue(`must be one or several of ${words.options.join(', ')}, joined by commas`);
      return z.NEVER;
    })
    .meta({ description: `One or several of ${words.options.join(', ')}, joined by commas.` });
}

/** A strong ETag's version number, shown in bodies too. */
export const version = z.int().min(1);

/** Parameters of an address with one identifier. */
export function idParam<Name extends string>(name: Name) {
  return z.strictObject({ [name]: z.uuid() } as Record<Name, z.ZodUUID>);
}
