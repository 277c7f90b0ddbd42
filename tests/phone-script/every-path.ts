import {
  type Condition,
  type FactCode,
  type GivenAnswer,
  nextStep,
  type Question,
  type Script,
  type Step,
} from '../../src/phone-script/index.ts';

/** Answers to a question that nothing in the script tells apart, and how many there are. */
export interface Alike {
  given: GivenAnswer;
  /** Every number between two limits counts as one answer. */
  count: number;
}

export interface Path {
  facts: readonly FactCode[];
  given: readonly GivenAnswer[];
  asked: readonly Question[];
}

/** What the walk tells on its way: every question when it is asked, and every end. */
export interface Visitor {
  asks?(question: Question, path: Path): void;
  ends?(step: Exclude<Step, { kind: 'ask' }>, path: Path, answerCount: number): void;
}

/**
 * Walks every path of a script with every answer; none is left out by chance. Two answers that no
 * condition, stop or observation of the script tells apart lead on alike, so one stands for both,
 * and `answerCount` says for how many.
 */
export function walkEveryPath(script: Script, facts: readonly FactCode[], visitor: Visitor): void {
  const alike = new Map(
    questionsOf(script).map((question) => [question.code, answersAlike(script, question)]),
  );
  const given: GivenAnswer[] = [];
  const asked: Question[] = [];
  const go = (count: number): void => {
    const step = nextStep(script, facts, given);
    if (step.kind !== 'ask') {
      visitor.ends?.(step, { facts, given, asked }, count);
      return;
    }
    visitor.asks?.(step.question, { facts, given, asked });
    asked.push(step.question);
    for (const each of alike.get(step.question.code) ?? []) {
      given.push(each.given);
      go(count * each.count);
      given.pop();
    }
    asked.pop();
  };
  go(1);
}

export function questionsOf(script: Script): Question[] {
  return script.sections.flatMap(({ questions }) => questions);
}

/** Every condition of a script, taken apart. */
export function conditionsOf(script: Script): Condition[] {
  const whole = [
    ...script.sections.map(({ when }) => when),
    ...questionsOf(script).map(({ when }) => when),
    ...script.ends.map(({ when }) => when),
  ];
  return whole.flatMap((condition) => (condition === undefined ? [] : apart(condition)));
}

export function apart(condition: Condition): Condition[] {
  if ('all' in condition) return condition.all.flatMap(apart);
  if ('any' in condition) return condition.any.flatMap(apart);
  if ('not' in condition) return apart(condition.not);
  return [condition];
}

/** Every combination of some facts. */
export function combinationsOf(facts: readonly FactCode[]): FactCode[][] {
  return facts.reduce<FactCode[][]>(
    (sets, fact) => sets.flatMap((set) => [set, [...set, fact]]),
    [[]],
  );
}

function answersAlike(script: Script, question: Question): Alike[] {
  const told = new Map<string, Alike>();
  for (const given of everyAnswer(script, question)) {
    const mark = JSON.stringify(marksOf(script, question, given));
    const known = told.get(mark);
    if (known === undefined) told.set(mark, { given, count: 1 });
    else known.count += 1;
  }
  return [...told.values()];
}

/** What of a script an answer to a question makes true. */
function marksOf(script: Script, question: Question, given: GivenAnswer): boolean[] {
  const isOf = (is: readonly string[]) => given.answer.split(',').some((each) => is.includes(each));
  const atoms = conditionsOf(script).map((atom) => {
    if (!('question' in atom) || atom.question !== question.code) return false;
    return 'is' in atom ? isOf(atom.is) : (given.numberValue ?? Number.NaN) >= atom.atLeast;
  });
  const stops = (question.stops ?? []).map(({ is }) => isOf(is));
  const observes = (question.observes ?? []).map(({ is }) => isOf(is));
  // The judge asks whether a danger was denied or only not known, whatever the script makes of it.
  const isDenied = stops.length > 0 && given.answer === 'no';
  return [...atoms, ...stops, ...observes, isDenied];
}

function everyAnswer(script: Script, { code, asks }: Question): GivenAnswer[] {
  const of = (answer: string) => ({ question: code, answer });
  const unknown = of('unknown');
  if (asks.kind === 'yes_no') return [of('yes'), of('no'), unknown];
  if (asks.kind === 'choice') return [...asks.choices.map((each) => of(each.code)), unknown];
  if (asks.kind === 'choices') {
    const some = asks.choices
      .reduce<string[][]>((sets, each) => sets.flatMap((set) => [set, [...set, each.code]]), [[]])
      .filter((set) => set.length > 0);
    return [...some.map((set) => of(set.join(','))), of('none'), unknown];
  }
  const limits = conditionsOf(script).flatMap((atom) =>
    'atLeast' in atom && atom.question === code ? [atom.atLeast] : [],
  );
  const between = [...new Set([asks.min, ...limits])];
  return [...between.map((numberValue) => ({ ...of('number'), numberValue })), unknown];
}
