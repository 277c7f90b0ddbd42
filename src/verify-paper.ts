import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { parseArgs } from 'node:util';
import type { PaperLanguage } from './documents/index.ts';
import { readConfig } from './platform/config.ts';
import {
  type KeySet,
  type ProofVerdict,
  readKeySet,
  tellVerdict,
  verifyBeside,
} from './proof/index.ts';

const USAGE = `Says whether a paper is the one the company made, and what differs if it is not.
Needs neither the network nor the database.

  npm run verify-paper -- FILE [--keys FILE] [--language en|es]

  --keys       the company's published keys, as saved from /.well-known/jwks.json;
               without it, paper-keys.json in EVENHAND_DATA_DIR (.data)
  --language   what the answer is written in; without it, the paper's own language

Ends with status 0 when the file is to the last byte the one the company made, 1 when it was
altered, 2 when that cannot be said: also of a file with the company's pages that was saved again.`;

const STATUS: Record<ProofVerdict['verdict'], 0 | 1 | 2> = {
  genuine: 0,
  // The pages are ours as far as our own reader goes. A program that goes on with 0 alone must not
  // rest on how some other viewer reads a file that we did not pack.
  same_pages: 2,
  altered: 1,
  unsure: 2,
  unknown_key: 2,
  not_ours: 2,
  unreadable: 2,
};

try {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      keys: { type: 'string' },
      language: { type: 'string' },
      help: { type: 'boolean' },
    },
  });
  const [file, ...more] = positionals;
  if (values.help) console.log(USAGE);
  else if (file === undefined || more.length > 0) throw new Error(USAGE);
  else process.exitCode = await verify(file, values.keys, readLanguage(values.language));
} catch (error) {
  console.error((error as Error).message);
  process.exitCode = 2;
}

async function verify(
  file: string,
  keysFile: string | undefined,
  language: PaperLanguage | undefined,
): Promise<0 | 1 | 2> {
  const keys = await readKeys(keysFile);
  const verdict = await verifyBeside(new Uint8Array(await readNamed(file)), keys);
  const own = 'paper' in verdict ? verdict.paper.language : 'en';
  const { headline, meaning, differences, stillStands } = tellVerdict(verdict, language ?? own);
  const details = differences.map((line) => `  ${line}`);
  console.log([headline, ...details, meaning, stillStands ?? ''].join('\n').trimEnd());
  return STATUS[verdict.verdict];
}

async function readKeys(named: string | undefined): Promise<KeySet> {
  const file = named ?? path.join(readConfig(process.env).dataDir, 'paper-keys.json');
  try {
    return readKeySet(await readFile(file, 'utf8'));
  } catch (error) {
    throw new Error(
      `The company's keys cannot be read from ${file}: ${(error as Error).message}\nSave them from its /.well-known/jwks.json and name the file with --keys.`,
    );
  }
}

async function readNamed(file: string): Promise<Buffer> {
  try {
    return await readFile(file);
  } catch (error) {
    throw new Error(`The paper cannot be read: ${(error as Error).message}`);
  }
}

function readLanguage(text: string | undefined): PaperLanguage | undefined {
  if (text === undefined || text === 'en' || text === 'es') return text;
  throw new Error('--language is en or es.');
}
