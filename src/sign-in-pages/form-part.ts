import { type Html, type HtmlValue, html } from '../platform/html/html.ts';
import type { Shown } from './send-shown.ts';

/** A field to be typed into. */
export interface Field {
  name: string;
  label: string;
  type: 'text' | 'email' | 'password';
  /** What the browser may fill in by itself (WHATWG HTML, 4.10.18.7). */
  fills: string;
  hint?: string;
  /** What was typed before; never a secret. */
  typed?: string | undefined;
  isOptional?: boolean;
  /** Of digits, for the keys of a phone. */
  isNumber?: boolean;
}

/** A form with its fields and one button. */
export function formPart(
  { language, trouble }: Pick<Shown, 'language' | 'trouble'>,
  { to, button, fields = [] }: { to: string; button: string; fields?: readonly Field[] },
  look: 'yes' | 'no' = 'yes',
): Html {
  return html`<form class="send-file" method="post" action="${to}">
<input type="hidden" name="language" value="${language}">
${fields.map((field) => fieldPart(field, trouble?.field === field.name))}
<button class="${look}">${button}</button>
</form>`;
}

function fieldPart(field: Field, isWrong: boolean): Html {
  const { name, label, type, fills, hint, typed, isOptional } = field;
  const described = [hint !== undefined && `${name}-hint`, isWrong && 'trouble'].filter(Boolean);
  const state: HtmlValue = [
    isOptional !== true && html` required`,
    isWrong && html` aria-invalid="true"`,
    described.length > 0 && html` aria-describedby="${described.join(' ')}"`,
    field.isNumber === true && html` inputmode="numeric"`,
    typed !== undefined && html` value="${typed}"`,
  ];
  return html`<div class="field">
<label for="${name}">${label}</label>
<input id="${name}" name="${name}" type="${type}" autocomplete="${fills}" autocapitalize="none" spellcheck="false"${state}>
${hint !== undefined && html`<p class="small" id="${name}-hint">${hint}</p>`}
</div>`;
}
