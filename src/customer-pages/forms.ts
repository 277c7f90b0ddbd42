import { z } from 'zod';
import { languageSchema } from '../page-frame/index.ts';
import { cents, text } from '../platform/http/formats.ts';

const hash = z.string().regex(/^[0-9a-f]{64}$/);
const checked = z.literal('yes');

/**
 * Two letters at least, of any script, or it is no name to sign with: a name written in Han or in
 * Hangul has a family's and a given letter, and elsewhere the shortest names have two as well. A
 * letter with its accent counts once, however it was typed.
 */
const name = text(200).refine((typed) => /\p{L}.*\p{L}/su.test(typed.normalize('NFC')));

/**
 * What the page says of itself: which quote it shows, and in which language. One that was opened
 * before a release of ours may not name its language; only a text tells it for sure.
 */
const shown = { hash, language: languageSchema.default('en') };

/**
 * The fingerprint of the text above the name, in the words in which it was read. Where a page of
 * before says none, it is the fingerprint of no text, and the form comes back to be read.
 */
const agreedTo = { ...shown, text: hash.default('') };

export const acceptFormSchema = z.strictObject({
  ...agreedTo,
  option: z.uuid(),
  total: z
    .string()
    .regex(/^\d{1,10}$/)
    .transform(Number)
    .pipe(cents),
  name,
  agree: checked,
});

export const declineFormSchema = z.strictObject({
  ...shown,
  name,
  reason: text(1_000).optional(),
});

export const cancelFormSchema = z.strictObject({ ...agreedTo, name, notice: checked });

/** What was typed into which form, to be shown again with what is wrong about it. */
export interface TypedForm {
  form: 'accept' | 'decline' | 'cancel';
  typed: Readonly<Record<string, string>>;
  mistakes: ReadonlySet<string>;
}
