import type { Visit } from '../../../seed/visits/visit.ts';
import { visits } from '../../../seed/visits/visits.ts';
import { assessSystem, commonPriors, findFault } from '../../../src/trade/index.ts';
import { type Played, playVisit, proofsIn, type Strategy, wholeEvidence } from './play-visit.ts';

/** How one visit went under one way of choosing the next check. */
export type Course = {
  visit: string;
  truth: string;
  /** Checks and minutes until the truth was proven; undefined when it never was. */
  checks: number | undefined;
  minutes: number | undefined;
  /** Where the truth stood among the suspects, 1 being first: after five checks, and at the proof. */
  rankAfterFive: number;
  wrongProofs: string[];
};

export function courseOf(visit: Visit, strategy: Strategy): Course {
  const played = playVisit(visit.sheet, strategy);
  const proof = played.proofs.find(({ verdict }) => verdict.faultCode === visit.truth);
  return {
    visit: visit.name,
    truth: visit.truth,
    checks: proof?.checks,
    minutes: proof?.minutes,
    rankAfterFive: rankOf(visit, playVisit(visit.sheet, strategy, 5)),
    wrongProofs: wrongProofsIn(visit, played),
  };
}

/** Where the truth stands among the suspects when all is recorded that the sheet knows. */
export function finalRank(visit: Visit): number {
  return rankIn(visit, wholeEvidence(visit.sheet));
}

/** Causes proven that are not behind the call. A state that stands open is a fact, never a cause. */
export function wrongProofsIn(visit: Visit, { proofs }: Pick<Played, 'proofs'>): string[] {
  return proofs
    .map(({ verdict }) => verdict.faultCode)
    .filter((fault) => fault !== visit.truth && findFault(fault)?.role === 'cause');
}

/** The same, of everything that the sheet can tell. */
export function wrongProofsOfAll(visit: Visit): string[] {
  const proofs = proofsIn(wholeEvidence(visit.sheet)).map((each) => ({
    ...each,
    checks: 0,
    minutes: 0,
  }));
  return wrongProofsIn(visit, { proofs });
}

function rankOf(visit: Visit, { evidence }: Played): number {
  return rankIn(visit, evidence);
}

function rankIn({ truth }: Visit, evidence: Played['evidence']): number {
  const { suspects } = assessSystem(evidence, commonPriors).advice;
  const at = suspects.findIndex(({ faultCode }) => (faultCode ?? 'something_else') === truth);
  return at === -1 ? suspects.length + 1 : at + 1;
}

export const provable = visits.filter((visit) => visit.provable);
