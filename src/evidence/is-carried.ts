import {
  type Evidence,
  exclusionsMissing,
  type FaultCode,
  type Remedy,
  type Verdict,
} from '../trade/index.ts';

/** Whether the evidence carries a price: the standing the remedy needs, and the exclusions done. */
export function isCarried(
  faultCode: FaultCode,
  remedy: Remedy,
  evidence: Evidence,
  { standing }: Verdict,
): boolean {
  const enough =
    standing === 'proven' || (standing === 'supported' && remedy.needs === 'supported');
  return enough && exclusionsMissing(faultCode, evidence).length === 0;
}
