import { readFileSync } from 'node:fs';

/** What files say in place of settings, and what was wrong with them. */
export interface SecretFiles {
  values: Record<string, string>;
  mistakes: string[];
}

/**
 * Reads settings that stand in files, as secrets of containers do: `DATABASE_URL_FILE` names the
 * file whose content is the `DATABASE_URL`. The line end that editors leave is taken off. No mistake
 * repeats a value, because somebody may have put the secret where the file's name belongs.
 * @param set settings that are not empty
 * @param names those that may stand in a file
 */
export function readSecretFiles(
  set: Record<string, string | undefined>,
  names: readonly string[],
): SecretFiles {
  const found: SecretFiles = { values: {}, mistakes: [] };
  for (const name of names) {
    const file = set[`${name}_FILE`];
    if (file === undefined) continue;
    const content = contentOf(file);
    if (set[name] !== undefined) {
      found.mistakes.push(`${name}_FILE: is set beside ${name}; keep one of them`);
    } else if (content === undefined) {
      found.mistakes.push(`${name}_FILE: names no file that can be read`);
    } else if (content === '') found.mistakes.push(`${name}_FILE: names an empty file`);
    else found.values[name] = content;
  }
  return found;
}

function contentOf(file: string): string | undefined {
  try {
    return readFileSync(file, 'utf8').replace(/\r?\n$/, '');
  } catch {
    return undefined;
  }
}
