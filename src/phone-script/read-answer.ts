import type { GivenAnswer } from './given-answer.ts';
import type { Asks, Question } from './script.ts';

/** An answer as a client sends it: a word, several words, or a number. */
export type TypedAnswer = { answer: string } | { answers: readonly string[] } | { value: number };

/** Why an answer does not fit its question, and which would. */
export interface AnswerRefusal {
  field: 'answer' | 'answers' | 'value';
  message: string;
}

/** Reads an answer to a question as it is kept, or says which answers the question has. */
export function readAnswer(question: Question, typed: TypedAnswer): GivenAnswer | AnswerRefusal {
  const { asks, code } = question;
  const given = (answer: string): GivenAnswer => ({ question: code, answer });
  if ('value' in typed) {
    const fits = asks.kind === 'number' && typed.value >= asks.min && typed.value <= asks.max;
    return fits
      ? { question: code, answer: 'number', numberValue: typed.value }
      : { field: 'value', message: expected(asks) };
  }
  if ('answers' in typed) {
    const chosen = choicesOf(asks).filter((each) => typed.answers.includes(each));
    const fits =
      asks.kind === 'choices' && chosen.length > 0 && chosen.length === typed.answers.length;
    return fits ? given(chosen.join(',')) : { field: 'answers', message: expected(asks) };
  }
  return wordsOf(asks).includes(typed.answer)
    ? given(typed.answer)
    : { field: 'answer', message: expected(asks) };
}

function choicesOf(asks: Asks): string[] {
  return 'choices' in asks ? asks.choices.map(({ code }) => code) : [];
}

/** The answers that are one word. Whoever names one of several choices names it in a list. */
function wordsOf(asks: Asks): string[] {
  if (asks.kind === 'yes_no') return ['yes', 'no', 'unknown'];
  if (asks.kind === 'choice') return [...choicesOf(asks), 'unknown'];
  return asks.kind === 'choices' ? ['none', 'unknown'] : ['unknown'];
}

function expected(asks: Asks): string {
  const words = wordsOf(asks).join(', ');
  if (asks.kind === 'number') {
    return `is answered by a value from ${asks.min} to ${asks.max}, or by the answer ${words}`;
  }
  return asks.kind === 'choices'
    ? `is answered by a list of answers, each once: ${choicesOf(asks).join(', ')}; or by the answer ${wordsOf(asks).join(' or ')}`
    : `is answered by ${words}`;
}
