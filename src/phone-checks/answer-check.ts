import type { z } from 'zod';
import {
  dangerQuestionsOf,
  phoneScriptVersionSchema,
  type Question,
  type ScriptLanguage,
  type Step,
  scriptLanguageSchema,
} from '../phone-script/index.ts';
import type { PhoneAnswer } from '../platform/database/generated/client.ts';
import type { Reply } from '../platform/http/route.ts';
import { checkTag } from './check-tag.ts';
import { phoneCheckSchema } from './contract.ts';
import { dialogueOf } from './dialogue-of.ts';
import { KNOWN, type WholeCheck } from './whole-check.ts';

type CheckBody = z.input<typeof phoneCheckSchema>;

/** A dialogue as an answer, with its tag. */
export function answerCheck(check: WholeCheck): Reply<CheckBody> {
  return { body: checkBody(check), etag: checkTag(check) };
}

/** A dialogue as it was led, in its own language, and what comes next. */
export function checkBody(check: WholeCheck): CheckBody {
  const { id, ticketId, run, startedAt, outcome, endedAt, dangerCode, dangerOverAt } = check;
  const language = scriptLanguageSchema.parse(check.language);
  const { script, known, path, step } = dialogueOf(check);
  const asked = check.answers.filter(({ questionCode }) => questionCode !== KNOWN);
  // The latest answer to a question is the one that counts, if the question is still on the way.
  const latest = new Map(asked.map(({ questionCode, sequence }) => [questionCode, sequence]));
  const onTheWay = new Set(path.map(({ question }) => question.code));
  const questions = new Map(
    script.sections.flatMap((section) => section.questions.map((each) => [each.code, each])),
  );
  const hasNext =
    outcome === null || (outcome !== 'broken_off' && dangerOverAt === null && step.kind !== 'ask');
  const dangerQuestions = outcome === null ? dangerQuestionsOf(script, known) : [];
  return {
    id,
    ticketId,
    run,
    scriptVersion: phoneScriptVersionSchema.parse(check.scriptVersion),
    language,
    known,
    startedAt: startedAt.toISOString(),
    answers: asked.map((row) => ({
      ...answerBody(row, questions.get(row.questionCode), language),
      counts: latest.get(row.questionCode) === row.sequence && onTheWay.has(row.questionCode),
    })),
    next: hasNext ? stepBody(step, language) : null,
    dangerQuestions: dangerQuestions.map((each) => questionBody(each, language)),
    outcome: phoneCheckSchema.shape.outcome.parse(outcome),
    endedAt: endedAt?.toISOString() ?? null,
    endNote: check.endNote,
    danger:
      dangerCode === null
        ? null
        : {
            code: dangerCode,
            overAt: dangerOverAt?.toISOString() ?? null,
            overNote: check.dangerOverNote,
          },
  };
}

function answerBody(row: PhoneAnswer, question: Question | undefined, language: ScriptLanguage) {
  return {
    sequence: row.sequence,
    questionCode: row.questionCode,
    questionText: question?.words[language] ?? row.questionCode,
    answer: row.answer,
    answerText: answerText(row, question, language),
    value: row.numberValue,
    note: row.note,
    answeredAt: row.answeredAt.toISOString(),
  };
}

const plainAnswers: Record<string, Record<ScriptLanguage, string>> = {
  yes: { en: 'Yes', es: 'Sí' },
  no: { en: 'No', es: 'No' },
  none: { en: 'None', es: 'Ninguno' },
  unknown: { en: 'Unknown', es: 'No se sabe' },
};

function answerText(
  { answer, numberValue }: PhoneAnswer,
  question: Question | undefined,
  language: ScriptLanguage,
): string {
  const asks = question?.asks;
  if (numberValue !== null) {
    const unit = asks?.kind === 'number' && asks.unit === '%' ? ' %' : ' °F';
    return `${numberValue}${unit}`;
  }
  const choices = asks !== undefined && 'choices' in asks ? asks.choices : [];
  const words = answer
    .split(',')
    .map((code) => choices.find((each) => each.code === code)?.words ?? plainAnswers[code]);
  return words.map((each) => each?.[language] ?? answer).join(', ');
}

function stepBody(step: Step, language: ScriptLanguage): NonNullable<CheckBody['next']> {
  switch (step.kind) {
    case 'ask':
      return { kind: 'ask', question: questionBody(step.question, language) };
    case 'danger': {
      const { instruction, callFirst } = step.danger;
      return { kind: 'danger', code: step.code, text: instruction[language], callFirst };
    }
    case 'done': {
      const { outcome, words } = step.ending;
      return { kind: 'done', code: step.code, outcome, text: words[language] };
    }
  }
}

function questionBody(
  { code, asks, words, help, resetsBreaker }: Question,
  language: ScriptLanguage,
) {
  const choices = 'choices' in asks ? asks.choices : [];
  const limits = asks.kind === 'number' ? asks : { unit: null, min: null, max: null };
  return {
    code,
    text: words[language],
    help: help?.[language] ?? null,
    asks: asks.kind,
    choices: choices.map((each) => ({ code: each.code, text: each.words[language] })),
    unit: limits.unit,
    min: limits.min,
    max: limits.max,
    resetsBreaker: resetsBreaker ?? false,
  };
}
