/** What a text may name in braces: `{company}`. */
export const textNames = ['company', 'address', 'phone', 'email', 'license', 'regulator'] as const;
export type TextName = (typeof textNames)[number];

/** A rule's text with the company's own facts put in where it names them. */
export function fillText(text: string, facts: Readonly<Record<TextName, string>>): string {
  return text.replace(NAMED, (whole, name: string) => (isTextName(name) ? facts[name] : whole));
}

/** Names in braces that no text may use; empty when all are known. */
export function unknownNames(text: string): string[] {
  return [...text.matchAll(NAMED)].map(([, name = '']) => name).filter((name) => !isTextName(name));
}

const NAMED = /\{([^{}]*)\}/g;

function isTextName(name: string): name is TextName {
  return textNames.some((known) => known === name);
}
