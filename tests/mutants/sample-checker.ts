import { createHash } from 'node:crypto';
import path from 'node:path';
import { type Checker, type CheckResult, CheckStatus } from '@stryker-mutator/api/check';
import type { Mutant } from '@stryker-mutator/api/core';
import { declareClassPlugin, PluginKind } from '@stryker-mutator/api/plugin';
import { sampleOfProcess } from './sample.ts';

/** Lets so many mutants through, by lot: the same ones with the same seed, whatever the tests are. */
class SampleChecker implements Checker {
  readonly #drawn = new Set<string>();

  async init(): Promise<void> {}

  /** All of them are one group, so that the lot is drawn among all. */
  async group(mutants: Mutant[]): Promise<string[][]> {
    const lots = mutants.map((mutant) => ({ id: mutant.id, lot: lotOf(mutant) }));
    lots.sort((one, other) => (one.lot < other.lot ? -1 : 1));
    for (const { id } of lots.slice(0, sampleOfProcess?.size)) this.#drawn.add(id);
    return [lots.map(({ id }) => id)];
  }

  async check(mutants: Mutant[]): Promise<Record<string, CheckResult>> {
    return Object.fromEntries(mutants.map(({ id }) => [id, this.#resultOf(id)]));
  }

  #resultOf(id: string): CheckResult {
    if (this.#drawn.has(id)) return { status: CheckStatus.Passed };
    return { status: CheckStatus.CompileError, reason: 'not in the sample' };
  }
}

function lotOf({ fileName, location, replacement }: Mutant): string {
  const file = path.relative(process.cwd(), fileName);
  const drawn = [sampleOfProcess?.seed, file, location, replacement];
  return createHash('sha256').update(JSON.stringify(drawn)).digest('hex');
}

export const strykerPlugins = [declareClassPlugin(PluginKind.Checker, 'sample', SampleChecker)];
