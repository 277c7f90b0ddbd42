import {
  currentEvidenceRuleset,
  type Evidence,
  evidenceRulesets,
  type FaultCode,
  type Nameplate,
  type Verdict,
} from '../../../../src/trade/index.ts';
import { circuitPlate } from '../../circuit-readings.ts';
import { condenserNameplate, makeEvidence, outdoorUnit, type Sign } from '../../make-evidence.ts';

export type Row = [
  name: string,
  signs: Sign[],
  standing: Verdict['standing'],
  reason: string,
  plate?: Partial<Nameplate>,
];

/** Standing and reason of a fault of the outdoor unit whose plate says what charges it. */
export function standsOutdoors(
  fault: FaultCode,
  signs: readonly Sign[],
  plate: Partial<Nameplate> = {},
): [standing: string, reason: string] {
  return stands(fault, outdoorUnit(signs, { ...circuitPlate, ...plate }));
}

/** The same of an air handler that holds coil, valve and bulb, its outdoor unit beside it. */
export function standsIndoors(
  fault: FaultCode,
  signs: readonly Sign[],
  plate: Partial<Nameplate> = {},
): [standing: string, reason: string] {
  const charged = { ...circuitPlate, ...plate };
  const outdoors = { ...condenserNameplate, ...charged };
  return stands(fault, {
    ...makeEvidence('air_handler', charged, signs),
    system: [{ id: 'unit-2', kind: 'condensing_unit', nameplate: outdoors }],
  });
}

export function stands(fault: FaultCode, evidence: Evidence): [standing: string, reason: string] {
  const { standing, reason } = evidenceRulesets[currentEvidenceRuleset].weigh(fault, evidence);
  return [standing, reason];
}
