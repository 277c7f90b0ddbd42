import { laterVisits } from '../../seed/visits/later-visits.ts';
import type { Visit } from '../../seed/visits/visit.ts';
import { visits } from '../../seed/visits/visits.ts';
import { playVisit, type Strategy, wholeEvidence } from '../trade/visits/play-visit.ts';
import {
  type Course,
  courseToProof,
  isTruthProven,
  provenCauses,
  rankOfTruth,
} from '../trade/visits/report.ts';
import { byAdvice, byChecklist, inRandomOrder } from '../trade/visits/strategies.ts';

/** How the rules and the advice do on one list of invented visits. */
export type AdviceTrial = {
  list: string;
  visits: number;
  /** Marked as provable by trade judgement, and of these proven once everything is recorded. */
  provable: number;
  proven: number;
  /** Verdicts on causes proven by everything recorded, and how many of them are right. */
  provenCauses: number;
  rightCauses: number;
  /** How often the truth stands first among the suspects: after five checks advised, and at the end. */
  firstAfterFive: number;
  firstAtEnd: number;
  meanRankAtEnd: number;
  /** Over the visits that every way of choosing brings to the proof. */
  compared: number;
  advice: Course;
  checklist: Course;
  randomOrder: Course;
};

const randomSeeds = [1, 2, 3, 4, 5];

/** Plays the forty visits, and the twenty that no rule was fitted to. */
export function trialAdvice(): AdviceTrial[] {
  return [
    trialOf('the forty, written before the rules', visits),
    trialOf('the twenty later ones, one rule mended for two of them', laterVisits),
  ];
}

function trialOf(list: string, played: readonly Visit[]): AdviceTrial {
  const provable = played.filter(({ provable: isProvable }) => isProvable);
  const causes = played.flatMap((visit) => provenCauses(visit, wholeEvidence(visit.sheet)));
  const endRanks = played.map((visit) => rankOfTruth(visit, wholeEvidence(visit.sheet)));
  const courses = provable.filter(isTruthProven).flatMap(coursesOf);
  return {
    list,
    visits: played.length,
    provable: provable.length,
    proven: provable.filter(isTruthProven).length,
    provenCauses: causes.length,
    rightCauses: causes.filter(({ isRight }) => isRight).length,
    firstAfterFive: played.filter((visit) => rankAfterFive(visit) === 1).length,
    firstAtEnd: endRanks.filter((rank) => rank === 1).length,
    meanRankAtEnd: mean(endRanks),
    compared: courses.length,
    advice: meanCourse(courses.map(({ advice }) => advice)),
    checklist: meanCourse(courses.map(({ checklist }) => checklist)),
    randomOrder: meanCourse(courses.flatMap(({ random }) => random)),
  };
}

/** Nothing where one of the ways never gets to the proof: then there is nothing to compare. */
function coursesOf(visit: Visit) {
  const advice = courseToProof(visit, byAdvice);
  const checklist = courseToProof(visit, byChecklist);
  const random = randomSeeds.flatMap((seed) => courseToProof(visit, inRandomOrder(seed)) ?? []);
  if (advice === undefined || checklist === undefined || random.length < randomSeeds.length) {
    return [];
  }
  return [{ advice, checklist, random }];
}

function rankAfterFive(visit: Visit): number {
  const strategy: Strategy = byAdvice;
  const { evidence } = playVisit(visit.sheet, strategy, (_evidence, { length }) => length === 5);
  return rankOfTruth(visit, evidence);
}

function meanCourse(courses: readonly Course[]): Course {
  return {
    checks: mean(courses.map(({ checks }) => checks)),
    minutes: mean(courses.map(({ minutes }) => minutes)),
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, each) => sum + each, 0) / values.length;
}
