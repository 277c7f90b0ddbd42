import {
  dueBefore,
  type Evidence,
  type FaultCode,
  type Remedy,
  type Verdict,
} from '../trade/index.ts';

/** Whether the evidence carries a price: the standing the remedy needs, and nothing due before. */
export function isCarried(
  faultCode: FaultCode,
  remedy: Remedy,
  evidence: Evidence,
  { standing }: Verdict,
): boolean {
  const enough =
    standing === 'proven' || (standing === 'supported' && remedy.needs === 'supported');
  return enough && dueBefore(faultCode, remedy.remedyClass, evidence).length === 0;
}
