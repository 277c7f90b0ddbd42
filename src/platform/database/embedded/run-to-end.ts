import { text } from 'node:stream/consumers';
import type { Account } from './choose-account.ts';
import { runSupervised } from './run-supervised.ts';

/** Runs a program under the account, waits for its end, and returns its status and its words. */
export async function runToEnd(
  account: Account | undefined,
  command: readonly string[],
): Promise<{ status: number; output: string }> {
  const program = await runSupervised({ account, command, output: 'pipe' });
  const output = program.output === null ? '' : await text(program.output);
  return { status: await program.ended, output };
}
