import { describe, expect, test } from 'vitest';
import { laterVisits } from '../../../seed/visits/later-visits.ts';
import { visits } from '../../../seed/visits/visits.ts';
import { playVisit, wholeEvidence } from './play-visit.ts';
import { courseToProof, isTruthProven, provenCauses } from './report.ts';
import { byAdvice, byChecklist } from './strategies.ts';

const all = [...visits, ...laterVisits];

// Of a wrong proof the customer pays: none is allowed, on the way or at the end.
describe('no cause is proven that is not there', () => {
  test.each(all.map((visit) => [visit.name, visit] as const))(
    '%s: when everything is recorded',
    (_name, visit) => {
      const causes = provenCauses(visit, wholeEvidence(visit.sheet));
      expect(causes.filter(({ isRight }) => !isRight)).toEqual([]);
    },
  );

  test.each(all.map((visit) => [visit.name, visit] as const))(
    '%s: on the way, after each of the first fifteen checks advised',
    (_name, visit) => {
      const wrong: string[] = [];
      playVisit(visit.sheet, byAdvice, (evidence, { length }) => {
        for (const { fault, isRight } of provenCauses(visit, evidence)) {
          if (!isRight) wrong.push(`${fault} after ${length} checks`);
        }
        return length === 15;
      });
      expect(wrong).toEqual([]);
    },
  );
});

test('where the forty can be proven, the advice gets there in fewer checks and minutes than the fixed checklist', () => {
  const totals = { advice: { checks: 0, minutes: 0 }, checklist: { checks: 0, minutes: 0 } };
  let compared = 0;
  for (const visit of visits.filter(isTruthProven)) {
    const advice = courseToProof(visit, byAdvice);
    const checklist = courseToProof(visit, byChecklist);
    if (advice === undefined || checklist === undefined) continue;
    compared += 1;
    for (const unit of ['checks', 'minutes'] as const) {
      totals.advice[unit] += advice[unit];
      totals.checklist[unit] += checklist[unit];
    }
  }
  expect(compared).toBeGreaterThan(20);
  expect(totals.advice.checks).toBeLessThan(totals.checklist.checks);
  expect(totals.advice.minutes).toBeLessThan(totals.checklist.minutes);
});

test('a call that nothing in the catalog is behind ends in no proven cause', () => {
  const others = all.filter(({ truth }) => truth === 'something_else');
  expect(others.length).toBeGreaterThanOrEqual(3);
  for (const visit of others) {
    expect(provenCauses(visit, wholeEvidence(visit.sheet)), visit.name).toEqual([]);
  }
});
