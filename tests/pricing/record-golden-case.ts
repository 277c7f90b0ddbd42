import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import {
  type PricingRulesetVersion,
  pricingInputsSchema,
  pricingRulesets,
  pricingRulesetVersions,
} from '../../src/pricing/index.ts';

/**
 * Adds one case to the corpus of a ruleset version. It never replaces one: a released price that
 * changes is a defect of the engine, not of the corpus.
 *
 *     npx tsx tests/pricing/record-golden-case.ts pricing-1 a-plain-name inputs.json
 */
export function recordGoldenCase(
  version: PricingRulesetVersion,
  name: string,
  inputs: unknown,
): string {
  const folder = fileURLToPath(new URL(`./golden/${version}`, import.meta.url));
  const file = `${folder}/${name}.json`;
  if (existsSync(file)) throw new Error(`${file} is recorded already; choose another name.`);
  const result = pricingRulesets[version].priceQuote(pricingInputsSchema.parse(inputs));
  mkdirSync(folder, { recursive: true });
  writeFileSync(file, `${JSON.stringify({ inputs, result }, null, 2)}\n`);
  return file;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [asked, name, inputsFile] = process.argv.slice(2);
  const version = pricingRulesetVersions.find((known) => known === asked);
  if (version === undefined || name === undefined || inputsFile === undefined) {
    throw new Error(`Usage: <${pricingRulesetVersions.join('|')}> <name> <file with the inputs>`);
  }
  const inputs: unknown = JSON.parse(readFileSync(inputsFile, 'utf8'));
  console.log(recordGoldenCase(version, name, inputs));
}
