import { visits } from '../../seed/visits/visits.ts';
import {
  assessSystem,
  commonPriors,
  currentEvidenceRuleset,
  evidenceOfMachines,
  evidenceRulesets,
  type SystemEvidence,
  systemEvidenceSchema,
} from '../../src/trade/index.ts';
import { wholeEvidence } from '../trade/visits/play-visit.ts';

/** How long one system takes, all in milliseconds; medians of the rounds. */
export interface EvidenceBench {
  readonly system: string;
  readonly machines: number;
  readonly readings: number;
  readonly observations: number;
  /** From the evidence to every verdict and the next checks. */
  readonly assessMs: number;
  /** Every verdict alone. */
  readonly verdictsMs: number;
  /** Reading the same evidence through its schema, which no answer over HTTP goes without. */
  readonly parseMs: number;
  /** Reading and writing it as JSON: what nothing can go below. */
  readonly floorMs: number;
}

const count = 30;

/** Measures one machine that is the whole system, and one of two machines, with 30 readings each. */
export function benchEvidence(): EvidenceBench[] {
  return [
    benchSystem('a package unit', evidenceOn('the compressor that does not turn')),
    benchSystem('a split system', evidenceOn('the leak at the brazed joint')),
  ];
}

function evidenceOn(name: string): SystemEvidence {
  const visit = visits.find((each) => each.name === name);
  if (visit === undefined) throw new Error(`no invented visit is called ${name}`);
  const whole = wholeEvidence(visit.sheet);
  return {
    ...whole,
    readings: whole.readings.slice(0, count),
    observations: whole.observations.slice(0, count),
  };
}

function benchSystem(system: string, evidence: SystemEvidence): EvidenceBench {
  const { readings, observations, machines } = evidence;
  if (readings.length !== count) throw new Error(`${system} has ${readings.length} readings`);
  const text = JSON.stringify(evidence);
  const ruleset = evidenceRulesets[currentEvidenceRuleset];
  return {
    system,
    machines: machines.length,
    readings: readings.length,
    observations: observations.length,
    assessMs: medianMs(() => assessSystem(evidence, commonPriors).advice.nextChecks.length),
    verdictsMs: medianMs(() => evidenceOfMachines(evidence).map(ruleset.assess).length),
    parseMs: medianMs(() => systemEvidenceSchema.parse(JSON.parse(text)).readings.length),
    floorMs: medianMs(() => JSON.stringify(JSON.parse(text)).length),
  };
}

function medianMs(work: () => number): number {
  let sink = 0;
  // A service answers warm: the compiler takes some two thousand calls to get there.
  for (let warmUp = 0; warmUp < 2_500; warmUp += 1) sink += work();
  const rounds = Array.from({ length: 15 }, () => {
    const started = performance.now();
    for (let call = 0; call < 40; call += 1) sink += work();
    return (performance.now() - started) / 40;
  }).sort((a, b) => a - b);
  if (sink === 0) throw new Error('nothing was measured');
  return rounds[Math.floor(rounds.length / 2)] ?? Number.NaN;
}
