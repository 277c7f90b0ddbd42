import type { GivenAnswer } from './given-answer.ts';
import { holds, isOneOf, type KnownSoFar } from './holds.ts';
import type { Danger, Ending, FactCode, Question, Script, Section, Stop } from './script.ts';

/** What comes next in a dialogue. */
export type Step =
  | { kind: 'ask'; question: Question }
  | { kind: 'danger'; code: string; danger: Danger }
  | { kind: 'done'; code: string; ending: Ending };

/** A dialogue as far as it has gone: the answers that count, in the order of the script, and on. */
export interface Dialogue {
  path: readonly { question: Question; given: GivenAnswer }[];
  step: Step;
}

/**
 * Walks a script along the answers. Of two answers to one question the later counts. An answer to a
 * question that is not on the way any more, because an earlier one was corrected, does not count.
 * Danger waits for no turn: where it is told before its question comes, it stops the dialogue too.
 */
export function walkScript(
  script: Script,
  facts: readonly FactCode[],
  answers: readonly GivenAnswer[],
): Dialogue {
  const latest = new Map(answers.map((given) => [given.question, given]));
  const path: { question: Question; given: GivenAnswer }[] = [];
  const counted = new Map<string, GivenAnswer>();
  const known: KnownSoFar = { facts, answers: counted };
  for (const { section, question } of inOrder(script)) {
    if (!isAsked(section, known) || !isAsked(question, known)) continue;
    const given = latest.get(question.code);
    if (given === undefined) {
      return toldAhead(script, known, latest, path) ?? { path, step: { kind: 'ask', question } };
    }
    path.push({ question, given });
    counted.set(question.code, given);
    const stop = stopOf(question, given);
    if (stop === undefined) continue;
    return {
      path,
      step: 'danger' in stop ? inDanger(script, stop.danger) : done(script, stop.ending),
    };
  }
  const end = script.ends.find((each) => isAsked(each, known));
  if (end === undefined) throw new Error('the script has no end that always holds');
  return { path, step: done(script, end.ending) };
}

/** What comes next: a question, a danger that stops everything, or the end. */
export function nextStep(
  script: Script,
  facts: readonly FactCode[],
  answers: readonly GivenAnswer[],
): Step {
  return walkScript(script, facts, answers).step;
}

function toldAhead(
  script: Script,
  known: KnownSoFar,
  latest: ReadonlyMap<string, GivenAnswer>,
  path: Dialogue['path'],
): Dialogue | undefined {
  if (latest.size === known.answers.size) return undefined;
  for (const { section, question } of inOrder(script)) {
    const given = latest.get(question.code);
    if (given === undefined || known.answers.has(question.code)) continue;
    const stop = stopOf(question, given);
    if (stop === undefined || !('danger' in stop)) continue;
    if (!isAsked(section, known) || !isAsked(question, known)) continue;
    return { path: [...path, { question, given }], step: inDanger(script, stop.danger) };
  }
  return undefined;
}

function stopOf({ stops }: Question, given: GivenAnswer): Stop | undefined {
  return stops?.find(({ is }) => isOneOf(given, is));
}

function* inOrder(script: Script): Generator<{ section: Section; question: Question }> {
  for (const section of script.sections) {
    for (const question of section.questions) yield { section, question };
  }
}

function isAsked({ when }: Pick<Question, 'when'>, known: KnownSoFar): boolean {
  return when === undefined || holds(when, known);
}

function inDanger(script: Script, code: string): Step {
  const danger = script.dangers[code];
  if (danger === undefined) throw new Error(`the script has no danger ${code}`);
  return { kind: 'danger', code, danger };
}

function done(script: Script, code: string): Step {
  const ending = script.endings[code];
  if (ending === undefined) throw new Error(`the script has no ending ${code}`);
  return { kind: 'done', code, ending };
}
