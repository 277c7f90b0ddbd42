import type { WholeFinding } from '../evidence/index.ts';
import { remedyFor, type Verdict, verdictSchema } from '../trade/index.ts';
import { speaksAgainst } from './speaks-against.ts';

/** Why a finding carries no price: first how the evidence stands to it, then what is still due. */
export function whyNoPrice(
  finding: Pick<WholeFinding, 'faultCode' | 'taskCode' | 'verdict'>,
  due: readonly string[],
): string {
  const needs = remedyFor(finding.faultCode, finding.taskCode)?.needs;
  const why = byStanding(verdictSchema.parse(finding.verdict), needs === 'proven');
  if (due.length === 0) return why;
  return `${why} It carries no price until this is done: ${due.join(' ')}`;
}

function byStanding({ standing, reason, criteria }: Verdict, needsProof: boolean): string {
  switch (standing) {
    case 'contradicted':
      return `The evidence speaks against it: ${speaksAgainst(criteria)?.statement ?? reason}`;
    case 'supported':
      return needsProof
        ? 'This work needs a proven finding; it is supported so far.'
        : 'The finding is supported.';
    case 'unproven':
      return `The finding is unproven: ${reason}.`;
    case 'not_applicable':
      return `The finding does not apply here: ${reason}.`;
    case 'proven':
      return 'The finding is proven.';
  }
}
