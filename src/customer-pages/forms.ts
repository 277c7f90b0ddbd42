import { z } from 'zod';
import { cents, text } from '../platform/http/formats.ts';

const hash = z.string().regex(/^[0-9a-f]{64}$/);
const checked = z.literal('yes');

export const acceptFormSchema = z.strictObject({
  option: z.uuid(),
  total: z
    .string()
    .regex(/^\d{1,10}$/)
    .transform(Number)
    .pipe(cents),
  hash,
  name: text(200),
  agree: checked,
});

export const declineFormSchema = z.strictObject({
  hash,
  name: text(200),
  reason: text(1_000).optional(),
});

export const cancelFormSchema = z.strictObject({ hash, name: text(200), notice: checked });

/** What was typed into which form, to be shown again with what is wrong about it. */
export interface TypedForm {
  form: 'accept' | 'decline' | 'cancel';
  typed: Readonly<Record<string, string>>;
  mistakes: ReadonlySet<string>;
}
